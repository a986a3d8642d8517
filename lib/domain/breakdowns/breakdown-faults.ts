/** Why a breakdown could not be put together, or what is missing from one that could. Closed; each has its sentence. */
export const BREAKDOWN_FAULTS = [
  'parts-missing',
  'parts-broken',
  'voice-unreadable',
  'voice-cut', // ready, but the end of a take could not be read
  'disagree', // ready, but voice and events are of different length
  'empty',
  'clip-changed',
  'remark-gone',
  'too-long',
  'out-of-memory',
  'out-of-time',
  'disk-full',
  'interrupted',
] as const;
export type BreakdownFault = (typeof BREAKDOWN_FAULTS)[number];

export interface BreakdownFaultFacts {
  /** What happened, what was kept, what to do: for the coach who recorded it. */
  forPeople: string;
  /** As with clips: who asks for the next try. `none`: it is ready, this only tells what it lacks. */
  retry: 'by-itself' | 'on-request' | 'never' | 'none';
}

/** All that is known of each fault. Total: a new fault without its sentence does not compile. */
export const BREAKDOWN_FAULT_FACTS = {
  'parts-missing': {
    forPeople:
      'Some seconds of this breakdown did not arrive. What arrived is kept. Open the bench on the device you recorded with: it sends the rest, then try again.',
    retry: 'on-request',
  },
  'parts-broken': {
    forPeople:
      'A part of this breakdown arrived damaged and cannot be read. Everything is kept. Open the bench on the device you recorded with and keep it again, or record that take again.',
    retry: 'on-request',
  },
  'voice-unreadable': {
    forPeople:
      'The voice of this breakdown could not be read. What was recorded is kept. Try once more; if it stays, record that take again.',
    retry: 'on-request',
  },
  'voice-cut': {
    forPeople:
      'The end of a take could not be read, so the voice stops a little early there. Everything before it is fine. Listen to it before you return the lesson.',
    retry: 'none',
  },
  disagree: {
    forPeople:
      'Voice and picture of a take are not equally long. Both are kept. Listen to its end before you return the lesson, or record it again from there.',
    retry: 'none',
  },
  empty: {
    forPeople:
      'This breakdown is 0 seconds long, so there is nothing to play. The parts are kept. Record it again, or remove it.',
    retry: 'never',
  },
  'clip-changed': {
    forPeople:
      'A clip of this lesson was replaced or removed after this was recorded, so its frames are not the same ones. The voice is kept. Record the breakdown again on the clip as it is now.',
    retry: 'on-request',
  },
  'remark-gone': {
    forPeople:
      'A spoken remark that was dropped in here could not be found. Everything else is kept. Take the remark out and keep the breakdown again.',
    retry: 'on-request',
  },
  'too-long': {
    forPeople:
      'A breakdown is at most 10 minutes long, and this one is longer. Everything is kept. Leave a stretch out and keep it again.',
    retry: 'never',
  },
  'out-of-memory': {
    forPeople:
      'This breakdown was too heavy for us to put together. Everything is kept. Try once more later.',
    retry: 'on-request',
  },
  'out-of-time': {
    forPeople:
      'Putting this breakdown together took too long and was stopped. Everything is kept. Try once more later.',
    retry: 'on-request',
  },
  'disk-full': {
    forPeople:
      'We ran out of room while putting this breakdown together. Everything recorded is kept and we try again by ourselves. If this still stands here in an hour, try once more.',
    retry: 'by-itself',
  },
  interrupted: {
    forPeople:
      'Putting this breakdown together was interrupted. Everything recorded is kept and we try again by ourselves. If this still stands here in an hour, try once more.',
    retry: 'by-itself',
  },
} as const satisfies Record<BreakdownFault, BreakdownFaultFacts>;

/** The same facts by fault, with the plain types of `BreakdownFaultFacts`. */
export const factsOfBreakdownFault = (fault: BreakdownFault): BreakdownFaultFacts =>
  BREAKDOWN_FAULT_FACTS[fault];

/** The fault of that name, or null: what is stored is text. */
export const breakdownFaultOf = (code: string | null): BreakdownFault | null =>
  BREAKDOWN_FAULTS.find((fault) => fault === code) ?? null;
