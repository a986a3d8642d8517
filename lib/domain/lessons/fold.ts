import type { PersonId } from '../shared/ids';
import type { LessonState } from './state';

export const LESSON_EVENTS = [
  'created',
  'submitted',
  'taken',
  'assigned',
  'released',
  'returned',
  'reopened',
  'closed',
  'withdrawn',
] as const;
export type LessonEventKind = (typeof LESSON_EVENTS)[number];

/** One fact of a lesson's life, in the order it happened. `coachId` is given with `taken` and `assigned`. */
export interface LessonFact {
  kind: LessonEventKind;
  coachId: PersonId | null;
}

/** Where a lesson stands after its facts. */
export interface LessonStanding {
  state: LessonState;
  coachId: PersonId | null;
}

// From each state, the state that each event leads to; an event that is not listed is refused.
const NEXT = {
  draft: { submitted: 'submitted', withdrawn: 'withdrawn' },
  submitted: { taken: 'in_review', assigned: 'submitted', released: 'submitted', withdrawn: 'withdrawn' },
  in_review: { returned: 'returned', assigned: 'in_review', released: 'submitted', withdrawn: 'withdrawn' },
  returned: { reopened: 'in_review', closed: 'closed' },
  closed: { reopened: 'in_review' },
  withdrawn: {},
} as const satisfies Record<LessonState, Partial<Record<LessonEventKind, LessonState>>>;

/** The standing after one more event, or null when that event cannot happen there. A lesson begins with `created`. */
export function advance(standing: LessonStanding | null, fact: LessonFact): LessonStanding | null {
  if (!standing) return fact.kind === 'created' ? { state: 'draft', coachId: null } : null;
  const table: Partial<Record<LessonEventKind, LessonState>> = NEXT[standing.state];
  const state = table[fact.kind];
  if (!state) return null;
  if (fact.kind === 'taken' || fact.kind === 'assigned') {
    return fact.coachId ? { state, coachId: fact.coachId } : null;
  }
  return { state, coachId: fact.kind === 'released' ? null : standing.coachId };
}

/** The standing after all facts, or null when the history is empty or impossible. */
export function standingOf(facts: readonly LessonFact[]): LessonStanding | null {
  let standing: LessonStanding | null = null;
  for (const fact of facts) {
    standing = advance(standing, fact);
    if (!standing) return null;
  }
  return standing;
}

/** True when the event can happen in that state. */
export const canHappen = (state: LessonState, kind: LessonEventKind) => kind in NEXT[state];
