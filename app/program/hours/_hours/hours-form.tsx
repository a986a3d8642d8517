'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { momentWords } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
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
type Said = { isKept: boolean; words: string };

/** When the program works, with what it means for a lesson sent now, worked out while it is written. */
export const HoursForm = ({ hours, promiseHours, timeZone, now }: Props) => {
  const [kind, setKind] = useState<'clock' | 'hours'>(hours ? 'hours' : 'clock');
  const [draft, setDraft] = useState(hours ? draftOfHours(hours.week, hours.daysOff) : office);
  const [said, setSaid] = useState<Said | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();

  const meant = kind === 'clock' ? { hours: null } : hoursOfDraft(draft);
  const keep = () =>
    start(async () => {
      if ('fault' in meant) return setSaid({ isKept: false, words: `${meant.fault} Nothing was changed.` });
      const answer = await setHoursAction(meant.hours);
      if (!answer.ok) return setSaid({ isKept: false, words: answer.message });
      setSaid({ isKept: true, words: 'Kept. It holds for lessons sent from now on.' });
      router.refresh();
    });

  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
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
          <p>
            An answer within {promiseWords(promiseHours, meant.hours)}: a lesson sent now would be promised by{' '}
            <b>
              {momentWords(promisedBy(now, { promiseHours, hours: meant.hours, timeZone }), now, timeZone)}
            </b>
            .{' '}
            {answeredBetween(
              { hours: meant.hours, timeZone },
              now,
              promisedBy(now, { promiseHours, hours: meant.hours, timeZone }),
            )}
          </p>
        )}
      </div>
      {said ? <Notice kind={said.isKept ? 'done' : 'refused'}>{said.words}</Notice> : null}
      <p>
        <button type="submit" className="btn do" disabled={isBusy}>
          Keep these hours
        </button>
      </p>
    </form>
  );
};
