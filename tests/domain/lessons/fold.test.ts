import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  advance,
  canHappen,
  LESSON_EVENTS,
  standingOf,
  type LessonEventKind,
  type LessonFact,
  type LessonStanding,
} from '@/lib/domain/lessons/fold';
import { LESSON_STATES, type LessonState } from '@/lib/domain/lessons/state';
import type { PersonId } from '@/lib/domain/shared/ids';

const ANN = 'ann' as PersonId;
const BO = 'bo' as PersonId;

const fact = (kind: LessonEventKind, coachId: PersonId | null = null): LessonFact => ({ kind, coachId });

// The whole table once more, cell by cell, as the product has it: draft, submitted, in review, returned, closed, and
// withdrawn from the first three. A dot is a refusal.
const TABLE = `
            created submitted taken     assigned  released  returned reopened  closed withdrawn
draft       .       submitted .         .         .         .        .         .      withdrawn
submitted   .       .         in_review submitted submitted .        .         .      withdrawn
in_review   .       .         .         in_review submitted returned .         .      withdrawn
returned    .       .         .         .         .         .        in_review closed .
closed      .       .         .         .         .         .        in_review .      .
withdrawn   .       .         .         .         .         .        .         .      .`;

const [head = '', ...lines] = TABLE.trim().split('\n');
const columns = head.trim().split(/\s+/) as LessonEventKind[];
const cells = lines.flatMap((line) => {
  const [state, ...nexts] = line.trim().split(/\s+/);
  return nexts.map((next, column) => ({
    state: state as LessonState,
    kind: columns[column]!,
    next: next === '.' ? null : (next as LessonState),
  }));
});

describe('the table of a lesson’s life', () => {
  test('is written down here for every state and every event', () => {
    expect(new Set(cells.map((cell) => cell.state))).toEqual(new Set(LESSON_STATES));
    expect(new Set(columns)).toEqual(new Set(LESSON_EVENTS));
    expect(cells).toHaveLength(LESSON_STATES.length * LESSON_EVENTS.length);
  });

  test.each(cells)('$state, $kind: $next', ({ state, kind, next }) => {
    expect(advance({ state, coachId: ANN }, fact(kind, BO))?.state ?? null).toBe(next);
    expect(canHappen(state, kind)).toBe(next !== null);
  });
});

describe('who has the lesson', () => {
  const submitted: LessonStanding = { state: 'submitted', coachId: null };

  test('whoever took it, was given it, until it is let go', () => {
    const taken = advance(submitted, fact('taken', ANN));
    expect(taken).toEqual({ state: 'in_review', coachId: ANN });
    expect(advance(taken, fact('assigned', BO))).toEqual({ state: 'in_review', coachId: BO });
    expect(advance(taken, fact('released'))).toEqual({ state: 'submitted', coachId: null });
    expect(advance(submitted, fact('assigned', BO))).toEqual({ state: 'submitted', coachId: BO });
  });

  test('stays with its coach when it is returned, reopened, closed and withdrawn', () => {
    const mine: LessonStanding = { state: 'in_review', coachId: ANN };
    const returned = advance(mine, fact('returned'));
    expect(returned?.coachId).toBe(ANN);
    expect(advance(returned, fact('reopened'))?.coachId).toBe(ANN);
    expect(advance(returned, fact('closed'))?.coachId).toBe(ANN);
    expect(advance(mine, fact('withdrawn'))?.coachId).toBe(ANN);
  });

  test.each(['taken', 'assigned'] as const)('%s without a coach is refused', (kind) => {
    expect(advance(submitted, fact(kind))).toBeNull();
  });
});

describe('a whole history', () => {
  test('begins with created and with nothing else', () => {
    expect(standingOf([])).toBeNull();
    expect(standingOf([fact('created')])).toEqual({ state: 'draft', coachId: null });
    for (const kind of LESSON_EVENTS.filter((one) => one !== 'created')) {
      expect(advance(null, fact(kind, ANN))).toBeNull();
    }
  });

  test('one impossible event anywhere makes it impossible', () => {
    expect(standingOf([fact('created'), fact('returned'), fact('submitted')])).toBeNull();
  });

  const anEvent = fc.record({
    kind: fc.constantFrom(...LESSON_EVENTS),
    coachId: fc.constantFrom(null, ANN, BO),
  });

  test('folds to what was kept beside it step by step, whatever is tried and refused on the way', () => {
    fc.assert(
      fc.property(fc.array(anEvent, { maxLength: 40 }), (tries) => {
        let kept: LessonStanding | null = advance(null, fact('created'));
        const history = [fact('created')];
        for (const one of tries) {
          const next = advance(kept, one);
          if (!next) continue;
          history.push(one);
          kept = next;
        }
        expect(standingOf(history)).toEqual(kept);
      }),
    );
  });

  test('nothing comes after withdrawn, nothing sent is a draft again, and a review is always somebody’s', () => {
    fc.assert(
      fc.property(fc.array(anEvent, { maxLength: 40 }), (tries) => {
        let kept = advance(null, fact('created'));
        let wasSent = false;
        for (const one of tries) {
          const before = kept?.state;
          kept = advance(kept, one) ?? kept;
          if (before === 'withdrawn') expect(kept?.state).toBe('withdrawn');
          if (wasSent) expect(kept?.state).not.toBe('draft');
          wasSent ||= kept?.state === 'submitted';
          if (kept?.state === 'in_review') expect(kept.coachId).not.toBeNull();
        }
      }),
    );
  });
});
