'use client';

import { useState, type FormEvent } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { SelectField, TextArea, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { PainScale } from '@/app/_ui/pain-scale';
import { checkInSchema, FEEL_WORD, type CheckInWords } from '@/lib/domain/drills/practice';
import { PAIN_PLACES } from '@/lib/domain/lessons/intake';
import type { Day } from '@/lib/domain/people/age';
import css from './practice.module.css';

type Props = {
  id: string;
  today: Day;
  done: { sets: number; swings: number };
  onSend: (said: CheckInWords) => Promise<void>;
};

/** What was done, how it felt, and whether anything hurt. Nothing about pain is chosen beforehand. */
export const CheckInForm = ({ id, today, done, onSend }: Props) => {
  const [sets, setSets] = useState(String(done.sets));
  const [swings, setSwings] = useState(String(done.swings));
  const [feel, setFeel] = useState<number | null>(null);
  const [pain, setPain] = useState<number | null>(null);
  const [where, setWhere] = useState('');
  const [note, setNote] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  const send = async (event: FormEvent) => {
    event.preventDefault();
    const said = checkInSchema.safeParse({
      day: today,
      setsDone: Number(sets),
      repsDone: Number(swings),
      feel,
      note,
      painLevel: pain ?? undefined,
      painWhere: pain ? where || null : null,
    });
    if (!said.success) return setRefusal(said.error.issues[0]?.message ?? 'Something does not fit.');
    setRefusal(null);
    setBusy(true);
    await onSend(said.data).catch(() =>
      setRefusal('This phone could not keep it. Leave the page open and try again.'),
    );
    setBusy(false);
  };
  return (
    <form onSubmit={(event) => void send(event)} className={css.panel} aria-label="Check in" noValidate>
      <div className={css.pair}>
        <TextField
          label="Sets done"
          type="number"
          inputMode="numeric"
          min={0}
          value={sets}
          onChange={(event) => setSets(event.target.value)}
        />
        <TextField
          label="Swings done"
          type="number"
          inputMode="numeric"
          min={0}
          value={swings}
          onChange={(event) => setSwings(event.target.value)}
        />
      </div>
      <ChoiceGroup
        legend="How did it feel?"
        name={`${id}-feel`}
        value={feel}
        onChange={setFeel}
        columns="three"
        choices={FEEL_WORD.map((label, index) => ({ value: index + 1, label }))}
      />
      <PainScale legend="Did anything hurt?" name={`${id}-pain`} value={pain} onChange={setPain} />
      {pain ? (
        <>
          <SelectField label="Where" value={where} onChange={(event) => setWhere(event.target.value)}>
            <option value="">Choose a place</option>
            {PAIN_PLACES.map((place) => (
              <option key={place}>{place}</option>
            ))}
          </SelectField>
          <Notice kind="plain">
            <p>Stop for today. Sending this pauses practice and tells your coach and guardian.</p>
          </Notice>
        </>
      ) : null}
      <TextArea
        label="Anything to say, if you like"
        value={note}
        maxLength={500}
        onChange={(event) => setNote(event.target.value)}
      />
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      <p className="acts">
        <button type="submit" className="btn do" disabled={isBusy}>
          Send the check-in
        </button>
      </p>
    </form>
  );
};
