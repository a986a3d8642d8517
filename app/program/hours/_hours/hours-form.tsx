'use client';

import { useState } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Kept } from '@/app/_ui/kept';
import { momentWords } from '@/app/_ui/moment';
import { useKeep } from '@/app/_ui/use-keep';
import type { WorkingHours } from '@/lib/domain/desk/hours';
import { draftOfHours, hoursOfDraft, type HoursDraft } from '@/lib/domain/desk/hours-draft';
import { promiseWords } from '@/lib/domain/desk/hours-words';
import { answeredBetween, promisedBy } from '@/lib/domain/lessons/promise';
import { setHoursAction } from '../actions';
import { DaysOffField } from './days-off-field';
import { WeekField } from './week-field';

const office: HoursDraft = {
  week: [0, 1, 2, 3, 4, 5, 6].map((day) => (day < 5 ? [{ from: '09:00', to: '17:00' }] : [])),
  daysOff: [],
};

type Props = { hours: WorkingHours | null; promiseHours: number; timeZone: string; now: Date };

/** When the program works, with what it means for a lesson sent now, worked out while it is written. */
export const HoursForm = ({ hours, promiseHours, timeZone, now }: Props) => {
  const [kind, setKind] = useState<'clock' | 'hours'>(hours ? 'hours' : 'clock');
  const [draft, setDraft] = useState(hours ? draftOfHours(hours.week, hours.daysOff) : office);

  const meant = kind === 'clock' ? { hours: null } : hoursOfDraft(draft);
  const { kept, isBusy, submit } = useKeep(
    () =>
      'fault' in meant
        ? { ok: false, message: `${meant.fault} Nothing was changed.` }
        : setHoursAction(meant.hours),
    'Kept. It holds for lessons sent from now on.',
  );

  return (
    <form className="stack" onSubmit={submit}>
      <ChoiceGroup
        legend="When are lessons answered?"
        name="kind"
        value={kind}
        onChange={setKind}
        choices={[
          { value: 'clock', label: 'Round the clock' },
          { value: 'hours', label: 'In working hours' },
        ]}
      />
      {kind === 'hours' ? (
        <>
          <WeekField week={draft.week} onChange={(week) => setDraft({ ...draft, week })} />
          <DaysOffField
            legend="Holidays"
            hint="Days on which nobody answers. A last day left open is the first."
            example="Thanksgiving"
            daysOff={draft.daysOff}
            onChange={(daysOff) => setDraft({ ...draft, daysOff })}
          />
        </>
      ) : null}
      <div role="status">
        {'fault' in meant ? (
          <p>{meant.fault}</p>
        ) : (
          <Example hours={meant.hours} promiseHours={promiseHours} timeZone={timeZone} now={now} />
        )}
      </div>
      <Kept kept={kept} />
      <p>
        <button type="submit" className="btn do" disabled={isBusy}>
          Keep these hours
        </button>
      </p>
    </form>
  );
};

/** What these hours mean for a lesson that is sent now. */
const Example = ({ hours, promiseHours, timeZone, now }: Props) => {
  const by = promisedBy(now, { promiseHours, hours, timeZone });
  return (
    <p>
      An answer within {promiseWords(promiseHours, hours)}: a lesson sent now would be promised by{' '}
      <b>{momentWords(by, now, timeZone)}</b>. {answeredBetween({ hours, timeZone }, now, by)}
    </p>
  );
};
