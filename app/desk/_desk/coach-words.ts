import { differenceInHours } from 'date-fns';
import { momentWords, spanWords } from '@/app/_ui/moment';
import { hoursOfCoach, type WorkingHours } from '@/lib/domain/desk/hours';
import { medianMinutes, type CoachLoad } from '@/lib/domain/desk/load';
import { nextWorking, type Clockwork } from '@/lib/domain/desk/working-time';
import type { PersonId } from '@/lib/domain/shared/ids';

/** What is needed to say how things stand with a coach. */
export interface DeskMoment {
  now: Date;
  timeZone: string;
  /** Of the program. */
  hours: WorkingHours | null;
}

/** A coach as a choice: who, how things stand there in words, and whether minors' lessons are open to them. */
export interface CoachChoice {
  id: PersonId;
  name: string;
  words: string;
  isCleared: boolean;
}

/** When a coach works: their own hours, or the program's. */
export const clockOf = (load: CoachLoad, { hours, timeZone }: DeskMoment): Clockwork => ({
  hours: hoursOfCoach(hours, load.own),
  timeZone,
});

const SOON_HOURS = 1;

/** "working now", or when the coach is back at work. */
export function awayWords(load: CoachLoad, moment: DeskMoment): string {
  const next = nextWorking(moment.now, clockOf(load, moment));
  return differenceInHours(next, moment.now) < SOON_HOURS
    ? 'working now'
    : `back ${momentWords(next, moment.now, moment.timeZone)}`;
}

/** How much lies with a coach: "3 waiting, 1 in review, 1 overdue". */
export function loadWords({ waiting, inReview, overdue }: CoachLoad): string {
  const parts = [
    waiting > 0 ? `${waiting} waiting` : '',
    inReview > 0 ? `${inReview} in review` : '',
    overdue > 0 ? `${overdue} overdue` : '',
  ].filter(Boolean);
  return parts.length > 0 ? parts.join(', ') : 'nothing waiting';
}

/** The time from sending to returning that half of a coach's latest lessons stayed under. */
export const medianWords = (load: CoachLoad): string => {
  const minutes = medianMinutes(load.returned);
  return minutes === null ? 'none yet' : spanWords(minutes);
};

/** A coach to choose, in the same words everywhere. */
export const coachChoice = (load: CoachLoad, moment: DeskMoment): CoachChoice => ({
  id: load.id,
  name: load.name,
  words: `${loadWords(load)}, ${awayWords(load, moment)}`,
  isCleared: load.isCleared,
});
