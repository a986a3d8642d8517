'use client';

import { useState } from 'react';
import { clockWords, dayWords } from '@/app/_ui/moment';
import { lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import css from './record.module.css';
import type { Recording } from './use-recording';

type Props = { recording: Recording; now: Date; timeZone: string };

/** Offers what a closed page or a killed browser left of this lesson. */
export const RecordLeft = ({ recording, now, timeZone }: Props) => {
  const { session, snapshot, left, lookForLeft } = recording;
  const [asked, setAsked] = useState<string | null>(null);
  const [first] = left;
  if (!session || !first || snapshot.phase !== 'idle') return null;
  const at = new Date(first.startedAt);
  const isToday = dayWords(at, now, timeZone) === dayWords(now, now, timeZone);
  const when = `${isToday ? '' : `${dayWords(at, now, timeZone)}, `}${clockWords(at, timeZone)}`;
  return (
    <div className={css.bar} role="status">
      <p>
        A breakdown of {lengthOfMs(first.ms)} from {when} was not kept. It is still on this device.
      </p>
      <span className={css.push} />
      {asked === first.breakdownId ? (
        <>
          <button
            type="button"
            className="btn small"
            onClick={() => {
              setAsked(null);
              void session.forget(first.breakdownId).then(lookForLeft);
            }}
          >
            Yes, throw it away
          </button>
          <button type="button" className="btn small" onClick={() => setAsked(null)}>
            No, leave it
          </button>
        </>
      ) : (
        <>
          <button
            type="button"
            className="btn small"
            onClick={() => void session.takeUp(first.breakdownId).then(lookForLeft)}
          >
            Go on with it
          </button>
          <button type="button" className="btn small" onClick={() => setAsked(first.breakdownId)}>
            Throw it away
          </button>
        </>
      )}
    </div>
  );
};
