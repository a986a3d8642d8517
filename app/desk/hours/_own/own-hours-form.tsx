'use client';

import { useState } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { TextField } from '@/app/_ui/field';
import { Kept } from '@/app/_ui/kept';
import { useKeep } from '@/app/_ui/use-keep';
import { DaysOffField } from '@/app/program/hours/_hours/days-off-field';
import { WeekField } from '@/app/program/hours/_hours/week-field';
import { wholeWeek, type OwnHours, type WorkingHours } from '@/lib/domain/desk/hours';
import { draftOfHours, hoursOfDraft } from '@/lib/domain/desk/hours-draft';
import { setOwnHoursAction } from '../actions';

type Props = {
  own: OwnHours | null;
  promiseHours: number | null;
  program: { hours: WorkingHours | null; promiseHours: number };
};

/** A coach's own week, days away and promise; everything left alone is as the program has it. */
export const OwnHoursForm = ({ own, promiseHours, program }: Props) => {
  const [kind, setKind] = useState<'program' | 'own'>(own?.week ? 'own' : 'program');
  const [draft, setDraft] = useState(
    draftOfHours(own?.week ?? program.hours?.week ?? wholeWeek(), own?.daysOff ?? []),
  );
  const [promise, setPromise] = useState(promiseHours === null ? '' : String(promiseHours));
  const { kept, isBusy, submit } = useKeep(() => {
    const meant = hoursOfDraft({
      ...draft,
      week: kind === 'own' ? draft.week : draftOfHours(wholeWeek(), []).week,
    });
    if ('fault' in meant) return { ok: false, message: `${meant.fault} Nothing was changed.` };
    const { week, daysOff } = meant.hours;
    return setOwnHoursAction({
      hours:
        kind === 'own' || daysOff.length > 0
          ? { version: 1, week: kind === 'own' ? week : null, daysOff }
          : null,
      promiseHours: promise.trim() === '' ? null : Number(promise),
    });
  }, 'Kept. It holds for lessons that you take from now on.');

  return (
    <form className="stack" onSubmit={submit}>
      <ChoiceGroup
        legend="When do you work?"
        name="kind"
        value={kind}
        onChange={setKind}
        choices={[
          { value: 'program', label: 'As the program' },
          { value: 'own', label: 'My own week' },
        ]}
      />
      {kind === 'own' ? (
        <WeekField week={draft.week} onChange={(week) => setDraft({ ...draft, week })} />
      ) : null}
      <DaysOffField
        legend="Days away"
        hint="Besides the program’s holidays. Others see them when lessons are given out."
        example="Tournament"
        daysOff={draft.daysOff}
        onChange={(daysOff) => setDraft({ ...draft, daysOff })}
      />
      <TextField
        label="Your own promise, in hours"
        hint={`Only if you answer sooner than the program’s ${program.promiseHours}. It counts from when you take a lesson.`}
        inputMode="numeric"
        value={promise}
        onChange={(event) => setPromise(event.target.value)}
      />
      <Kept kept={kept} />
      <p>
        <button type="submit" className="btn do" disabled={isBusy}>
          Keep these hours
        </button>
      </p>
    </form>
  );
};
