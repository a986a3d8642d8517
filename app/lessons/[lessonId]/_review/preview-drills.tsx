'use client';

import { GivenDrill } from '@/app/practice/_practice/given-drill';
import css from '@/app/practice/_practice/practice.module.css';
import type { AssignmentId, Drill } from '@/lib/domain/drills/drill';
import type { Given } from '@/lib/domain/drills/given';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { dayIn, type Day } from '@/lib/domain/people/age';
import type { Sheet, SheetAssignment } from '@/lib/domain/review/sheet';

type Props = {
  sheet: Sheet;
  lesson: LessonDetail;
  drills: readonly Drill[];
  /** How many drills of earlier lessons the player still practises. */
  stillGiven: number;
  now: Date;
  timeZone: string;
};

/** The drills as the player will get them, and what becomes of those that still go on. */
export const PreviewDrills = ({ sheet, lesson, drills, stillGiven, now, timeZone }: Props) => {
  const { assignments } = sheet;
  if (assignments.length === 0) return null;
  const hurts = (lesson.painLevel ?? 0) > 0;
  const asGiven = (one: SheetAssignment, drill: Drill): Given => ({
    ...one,
    id: one.id as unknown as AssignmentId,
    swingBy: one.swingBy as Day | null,
    drill,
    givenAt: now,
    pausedAt: hurts ? now : null,
    pauseReason: hurts ? 'pain' : null,
    endedAt: null,
    player: { ...lesson.player, bats: lesson.bats },
    lesson: { id: lesson.id, number: lesson.number },
    hasSwing: false,
    checkIns: [],
  });
  return (
    <section aria-label="Practice" className="stack">
      <h2>Practice</h2>
      {hurts ? <p>Pain was reported with this lesson: every drill is given paused.</p> : null}
      {stillGiven > 0 ? (
        <p className="small">
          {stillGiven === 1
            ? 'The drill that still goes on ends.'
            : `${stillGiven} drills that still go on end.`}
        </p>
      ) : null}
      <div className={css.drills}>
        {assignments.map((one) => {
          const drill = drills.find(({ id }) => String(id) === one.drillId);
          return drill ? (
            <GivenDrill key={one.id} given={asGiven(one, drill)} today={dayIn(timeZone, now)} />
          ) : (
            <p key={one.id}>A drill that was retired or replaced; the player gets it as it was.</p>
          );
        })}
      </div>
    </section>
  );
};
