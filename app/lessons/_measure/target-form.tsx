'use client';

import { useRouter } from 'next/navigation';
import { useId, useState, type FormEvent } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { setTargetAction } from '@/app/lessons/measure-actions';
import type { MeasureName } from '@/lib/domain/measures/names';
import { UNIT_OF, type Target } from '@/lib/domain/measures/target';
import { MEASURE_LABEL } from '@/lib/domain/measures/words';
import type { PersonId } from '@/lib/domain/shared/ids';
import css from './measure.module.css';

type Props = {
  measure: MeasureName;
  target: Target | null;
  player: { id: PersonId; name: string };
};

const UNIT_WORD = { deg: 'degrees', cm: 'centimetres', ms: 'milliseconds' } as const;
const numberIn = (text: string): number | null => (text.trim() === '' ? null : Number(text));

/** What the coach wants a measure to be, for this player or for everybody of the program. */
export const TargetForm = ({ measure, target, player }: Props) => {
  const router = useRouter();
  const id = useId();
  const [low, setLow] = useState(target?.low?.toString() ?? '');
  const [high, setHigh] = useState(target?.high?.toString() ?? '');
  const [isForAll, setForAll] = useState(false);
  const [said, setSaid] = useState<{ ok: boolean; words: string } | null>(null);
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await answerOf(
      setTargetAction({
        playerId: isForAll ? null : player.id,
        measure,
        low: numberIn(low),
        high: numberIn(high),
      }),
    );
    setSaid({ ok: answer.ok, words: answer.ok ? 'The target is set.' : answer.message });
    if (answer.ok) router.refresh();
  };
  const label = MEASURE_LABEL[measure].toLowerCase();
  return (
    <details>
      <summary className="small">{target ? 'Change the target' : 'Set a target'}</summary>
      <form
        className={css.targetform}
        onSubmit={(event) => void keep(event)}
        aria-label={`Target for ${label}`}
      >
        <div className={css.limits}>
          <label>
            <span className="small">At least, {UNIT_WORD[UNIT_OF[measure]]}</span>
            <input
              className="write"
              type="number"
              step="any"
              value={low}
              onChange={(event) => setLow(event.target.value)}
            />
          </label>
          <label>
            <span className="small">At most, {UNIT_WORD[UNIT_OF[measure]]}</span>
            <input
              className="write"
              type="number"
              step="any"
              value={high}
              onChange={(event) => setHigh(event.target.value)}
            />
          </label>
        </div>
        <label className="small" htmlFor={`${id}-whom`}>
          For
        </label>
        <select
          id={`${id}-whom`}
          className="write"
          value={isForAll ? 'all' : 'one'}
          onChange={(event) => setForAll(event.target.value === 'all')}
        >
          <option value="one">{player.name}</option>
          <option value="all">everybody here without a target of their own</option>
        </select>
        <p className="small soft">Empty fields take the target away. Your own choice: no study sets it.</p>
        <button type="submit" className="btn small">
          Set it
        </button>
        {said ? (
          <p className="small" role={said.ok ? 'status' : 'alert'}>
            {said.words}
          </p>
        ) : null}
      </form>
    </details>
  );
};
