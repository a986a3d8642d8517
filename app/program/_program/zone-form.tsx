'use client';

import { useState } from 'react';
import { SelectField } from '@/app/_ui/field';
import { Kept } from '@/app/_ui/kept';
import { momentWords } from '@/app/_ui/moment';
import { useKeep } from '@/app/_ui/use-keep';
import { setProgramZoneAction } from '../actions';

type Props = { timeZone: string; zones: readonly string[]; now: Date };

/** In which zone the program lives, and what follows from it. */
export const ZoneForm = ({ timeZone, zones, now }: Props) => {
  const [zone, setZone] = useState(timeZone);
  const { kept, isBusy, submit, unsay } = useKeep(
    () => setProgramZoneAction({ timeZone: zone }),
    'Kept. It holds from now on.',
  );
  return (
    <form className="stack read" onSubmit={submit}>
      <SelectField
        label="The program lives in"
        hint={`There it is now ${momentWords(now, now, zone).replace('today, ', '')}.`}
        value={zone}
        onChange={(event) => {
          setZone(event.target.value);
          unsay();
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
      <Kept kept={kept} />
      <p>
        <button type="submit" className="btn" disabled={isBusy || zone === timeZone}>
          Keep the zone
        </button>
      </p>
    </form>
  );
};
