import type { Day } from '@/lib/domain/people/age';

/** A day read aloud: "Friday, November 20". */
export const dayWords = (day: Day): string =>
  new Date(`${day}T12:00:00Z`).toLocaleDateString('en-US', {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    timeZone: 'UTC',
  });
