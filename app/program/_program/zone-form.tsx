'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { SelectField } from '@/app/_ui/field';
import { momentWords } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { setProgramZoneAction } from '../actions';

type Props = { timeZone: string; zones: readonly string[]; now: Date };

/** In which zone the program lives, and what follows from it. */
export const ZoneForm = ({ timeZone, zones, now }: Props) => {
  const router = useRouter();
  const [zone, setZone] = useState(timeZone);
  const [answer, setAnswer] = useState<{ isKept: boolean; words: string } | null>(null);
  const [isBusy, start] = useTransition();
  const keep = () =>
    start(async () => {
      const outcome = await setProgramZoneAction({ timeZone: zone }).catch(() => null);
      setAnswer(
        outcome?.ok
          ? { isKept: true, words: 'Kept. It holds from now on.' }
          : { isKept: false, words: outcome?.message ?? 'This did not reach us. Press again in a moment.' },
      );
      if (outcome?.ok) router.refresh();
    });
  return (
    <form
      className="stack read"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <SelectField
        label="The program lives in"
        hint={`There it is now ${momentWords(now, now, zone).replace('today, ', '')}.`}
        value={zone}
        onChange={(event) => {
          setZone(event.target.value);
          setAnswer(null);
        }}
      >
        {zones.map((one) => (
          <option key={one} value={one}>
            {one.replaceAll('_', ' ')}
          </option>
        ))}
      </SelectField>
      <ul className="small">
        <li>Times on every page are told in this zone.</li>
        <li>
          Working hours and days off are its clocks and days. Promises that were given stay as they are.
        </li>
        <li>Quiet hours follow it for players who told no zone of their own.</li>
        <li>Players turn 13 and 18 by its days.</li>
        <li>The months of the books begin by it. Invoices and receipts that were made stay as they are.</li>
      </ul>
      {answer ? <Notice kind={answer.isKept ? 'done' : 'refused'}>{answer.words}</Notice> : null}
      <p>
        <button type="submit" className="btn" disabled={isBusy || zone === timeZone}>
          Keep the zone
        </button>
      </p>
    </form>
  );
};
