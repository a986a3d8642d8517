import { Moment } from '@/app/_ui/moment';
import type { Measure } from '@/lib/domain/measures/measure';
import { targetWords, type Target } from '@/lib/domain/measures/target';

import { MEASURE_LABEL, MEASURE_MEANING, measureText } from '@/lib/domain/measures/words';
import css from './measure.module.css';

export type When = { now: Date; timeZone: string };

type Props = When & {
  measure: Measure;
  target: Target | null;
  /** Said to the player instead of about them. */
  isPlayers?: boolean;
  /** From which clip, when there are several. */
  from?: string | null;
};

/** One measure: its number with its interval and the target beside it, or the plain reason why there is none. */
export const MeasureLine = ({ measure, target, isPlayers = false, from = null, ...when }: Props) => {
  const label = MEASURE_LABEL[measure.name];
  const wanted = target ? (
    <p className="small">
      {isPlayers ? 'Your target' : 'Target'}: <b>{targetWords(target)}</b>, set{' '}
      <Moment at={target.setAt} as="day" {...when} />
      {target.isOwn ? '' : ' for everybody here'}.
    </p>
  ) : null;
  if (measure.status === 'refused') {
    return (
      <div className={css.measure} data-measure={measure.name} data-status="refused">
        <p className="small">
          {label}: <b>not measured</b>
        </p>
        {wanted}
        <details>
          <summary className="small">Why, and how to film it</summary>
          <p className="small">{measure.reason}</p>
        </details>
      </div>
    );
  }
  return (
    <div className={css.measure} data-measure={measure.name} data-status={measure.status}>
      <p>
        <b className={`num ${css.value}`}>{measureText(measure)}</b> {label.toLowerCase()}
        {measure.status === 'estimate' ? <span className="soft">, an estimate</span> : null}
        {from ? <span className="soft">, {from}</span> : null}
      </p>
      {wanted}
      {measure.reason ? <p className="small soft">{measure.reason}</p> : null}
      <details>
        <summary className="small">What the number means</summary>
        <p className="small">
          {MEASURE_MEANING[measure.name]} In 95 of 100 cases the true value lies within what stands after ±.
        </p>
      </details>
    </div>
  );
};
