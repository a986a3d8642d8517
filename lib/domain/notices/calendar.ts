import { subMinutes } from 'date-fns';

/** A promised time as an entry of a coach's calendar. Instants are UTC. */
export interface PromisedTime {
  lessonId: string;
  programName: string;
  lessonNumber: number;
  playerName: string;
  /** Whether the coach has it; else it waits for whoever takes it. */
  isOwn: boolean;
  promisedAt: Date;
}

const LASTS_MINUTES = 30;

/**
 * The first letters of a name, at most three: "W. A.". Calendars are copied to services that the program does not know,
 * so that no name of a player is in one; of grown players neither, because a difference would tell who is a child.
 */
export const initialsOf = (name: string): string =>
  name
    .trim()
    .split(/\s+/)
    .flatMap((word) => [...word.replace(/^[^\p{L}\p{N}]+/u, '')].slice(0, 1))
    .slice(0, 3)
    .map((letter) => `${letter.toLocaleUpperCase('en')}.`)
    .join(' ');

/** What stands in the calendar: half an hour that ends when the answer is promised. */
export const calendarEntry = (one: PromisedTime) => ({
  id: `${one.lessonId}@cagepost`,
  start: subMinutes(one.promisedAt, LASTS_MINUTES),
  end: one.promisedAt,
  summary: `${one.isOwn ? 'Promised' : 'Promised, not taken yet'}: lesson ${one.lessonNumber}, ${initialsOf(one.playerName)}`,
  description: `${one.programName} answers by the end of this. Names, clips and notes stay on the site.`,
  path: `/lessons/${one.lessonId}`,
});
