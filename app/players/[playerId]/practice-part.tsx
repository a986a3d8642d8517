import { listPractised } from '@/lib/data/practice.read';
import { mondayOf, weekBefore } from '@/lib/domain/drills/weeks';
import type { Day } from '@/lib/domain/people/age';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { PracticeWeeks, WEEKS_SHOWN } from './_practice/practice-weeks';

type Props = {
  viewer: Viewer;
  playerId: PersonId;
  /** A day of the newest week to show; null for the present one. */
  upTo: Day | null;
  today: Day;
  timeZone: string;
};

/** Reads what a player practised in some weeks and shows it. */
export async function PracticePart({ viewer, playerId, upTo, today, timeZone }: Props) {
  const newest = upTo ?? today;
  const from = weekBefore(mondayOf(newest), WEEKS_SHOWN - 1);
  const { drills, hasEarlier } = await listPractised(viewer, playerId, {
    from,
    until: weekBefore(mondayOf(newest), -1),
  });
  return (
    <PracticeWeeks
      {...{ playerId, drills, today, timeZone }}
      upTo={newest}
      earlier={hasEarlier ? weekBefore(from, 1) : null}
      isNewest={upTo === null}
    />
  );
}
