import type { LessonId, PersonId } from '../shared/ids';
import { addWorkingMinutes, type Clockwork } from './working-time';

/** A waiting lesson that is to be given to somebody. */
export interface LessonToGive {
  id: LessonId;
  promisedAt: Date;
  isMinor: boolean;
  /** Who has it now; null: nobody. */
  coachId: PersonId | null;
}

/** A coach who may be given lessons: what lies there already, how fast it goes, and when work is done. */
export interface CoachToGive {
  id: PersonId;
  isCleared: boolean;
  /** Lessons that lie there already, those to give included. */
  load: number;
  /** Minutes a lesson. */
  pace: number;
  clock: Clockwork;
}

/** What becomes of one lesson. `coachId` is null when nobody may take it. */
export interface Gift {
  lessonId: LessonId;
  coachId: PersonId | null;
  /** When it would be done at that coach's pace and hours; null without a coach. */
  doneAt: Date | null;
  isLate: boolean;
}

/**
 * Shares lessons among coaches: in order of promise, each to whoever is done with it first, by load, pace and working
 * hours; those in `chosen` go where they were put (null: to nobody). A minor's lesson is proposed to nobody whose checks
 * do not hold. Nothing is changed by it.
 */
export function planSplit(
  lessons: readonly LessonToGive[],
  coaches: readonly CoachToGive[],
  now: Date,
  chosen: ReadonlyMap<LessonId, PersonId | null> = new Map(),
): Gift[] {
  const piles = coaches.map((coach) => {
    const own = lessons.filter((lesson) => lesson.coachId === coach.id).length;
    const pile = { coach, count: Math.max(0, coach.load - own), next: now };
    return { ...pile, next: doneAfter(pile, now) };
  });
  return [...lessons]
    .sort((a, b) => a.promisedAt.getTime() - b.promisedAt.getTime())
    .map((lesson): Gift => {
      const pile = chosen.has(lesson.id)
        ? piles.find(({ coach }) => coach.id === chosen.get(lesson.id))
        : firstDone(piles.filter(({ coach }) => coach.isCleared || !lesson.isMinor));
      if (!pile) return { lessonId: lesson.id, coachId: null, doneAt: null, isLate: false };
      const doneAt = pile.next;
      pile.count += 1;
      pile.next = doneAfter(pile, now);
      return { lessonId: lesson.id, coachId: pile.coach.id, doneAt, isLate: doneAt > lesson.promisedAt };
    });
}

interface Pile {
  coach: CoachToGive;
  count: number;
  /** When one more would be done. */
  next: Date;
}

const doneAfter = ({ coach, count }: Pile, now: Date): Date =>
  addWorkingMinutes(now, (count + 1) * coach.pace, coach.clock);

const firstDone = (piles: Pile[]): Pile | undefined =>
  piles.sort((a, b) => a.next.getTime() - b.next.getTime() || a.count - b.count)[0];
