import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { eveningLine, FIRST_GUESS_MINUTES, paceMinutes } from '@/lib/domain/desk/evening-line';

const NOW = new Date('2026-06-01T18:00:00Z');
const minutes = (n: number) => new Date(NOW.getTime() + n * 60_000);
const took = (...durations: number[]) => durations.map((m) => ({ takenAt: NOW, returnedAt: minutes(m) }));

describe('a coach’s own pace', () => {
  test.each([
    ['a first guess before there are three', took(5, 7), FIRST_GUESS_MINUTES],
    ['the middle one of three', took(5, 30, 7), 7],
    ['between the middle two of four', took(4, 6, 9, 20), 8],
    ['without the hours in which the coach was away', took(5, 6, 7, 61, 500), 6],
    ['an hour itself counts', took(60, 60, 60), 60],
    ['without slips of a second', took(0, 0.9, 1, 1, 1), 1],
    ['not counting those left out toward the three', took(5, 7, 61), FIRST_GUESS_MINUTES],
  ])('%s', (_what, reviews, pace) => {
    expect(paceMinutes(reviews)).toBe(pace);
  });

  test('is a whole number from 1 to 60, and half of the reviews are on either side of it', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 3, maxLength: 30 }), (durations) => {
        const pace = paceMinutes(took(...durations));
        expect(Number.isInteger(pace) && pace >= 1 && pace <= 60).toBe(true);
        const half = durations.length / 2;
        expect(durations.filter((m) => m < pace - 0.5).length).toBeLessThanOrEqual(half);
        expect(durations.filter((m) => m > pace + 0.5).length).toBeLessThanOrEqual(half);
      }),
    );
  });
});

describe('the evening line', () => {
  const due = (lessonId: string, m: number) => ({ lessonId, promisedAt: minutes(m) });

  test('puts the lessons one after the other in order of promise', () => {
    const line = eveningLine(NOW, [due('c', 300), due('a', 60), due('b', 120)], 10);
    expect(line.steps).toEqual([
      { lessonId: 'a', promisedAt: minutes(60), startsAt: NOW, endsAt: minutes(10), isLate: false },
      { lessonId: 'b', promisedAt: minutes(120), startsAt: minutes(10), endsAt: minutes(20), isLate: false },
      { lessonId: 'c', promisedAt: minutes(300), startsAt: minutes(20), endsAt: minutes(30), isLate: false },
    ]);
    expect(line).toMatchObject({ finishesAt: minutes(30), lateCount: 0 });
  });

  test('finished to the minute is in time, a minute later is late', () => {
    const line = eveningLine(NOW, [due('a', 10), due('b', 19)], 10);
    expect(line.steps.map((step) => step.isLate)).toEqual([false, true]);
    expect(line.lateCount).toBe(1);
  });

  test('what is past its promise already comes first and is late', () => {
    const line = eveningLine(NOW, [due('a', 60), due('b', -30)], 10);
    expect(line.steps.map((step) => [step.lessonId, step.isLate])).toEqual([
      ['b', true],
      ['a', false],
    ]);
  });

  test('an empty desk is done now', () => {
    expect(eveningLine(NOW, [], 12)).toEqual({ steps: [], finishesAt: NOW, lateCount: 0 });
  });

  test('keeps every lesson once, leaves no gap, and leaves the queue as it was', () => {
    const queues = fc.array(fc.integer({ min: -600, max: 600 }), { maxLength: 30 });
    fc.assert(
      fc.property(queues, fc.integer({ min: 1, max: 60 }), (promises, pace) => {
        const queue = promises.map((m, i) => due(`lesson ${i}`, m));
        const before = [...queue];
        const { steps, finishesAt, lateCount } = eveningLine(NOW, queue, pace);
        expect(queue).toEqual(before);
        expect(steps.map((step) => step.lessonId).sort()).toEqual(queue.map((q) => q.lessonId).sort());
        steps.forEach((step, i) => {
          expect(step.startsAt).toEqual(steps[i - 1]?.endsAt ?? NOW);
          expect(step.isLate).toBe(step.endsAt > step.promisedAt);
        });
        expect(finishesAt).toEqual(minutes(queue.length * pace));
        expect(lateCount).toBe(steps.filter((step) => step.isLate).length);
      }),
    );
  });

  test('no other order makes the latest lesson less late', () => {
    // Earliest due date first makes the greatest lateness as small as it can be (Jackson 1955, from memory).
    const queues = fc.array(fc.integer({ min: -60, max: 120 }), { minLength: 2, maxLength: 6 });
    const worst = (promises: number[]) => Math.max(...promises.map((promise, i) => (i + 1) * 10 - promise));
    fc.assert(
      fc.property(
        queues.chain((q) => fc.tuple(fc.constant(q), fc.shuffledSubarray(q, { minLength: q.length }))),
        ([queue, other]) => {
          const { steps } = eveningLine(
            NOW,
            queue.map((m, i) => due(`lesson ${i}`, m)),
            10,
          );
          const ours = steps.map((step) => (step.promisedAt.getTime() - NOW.getTime()) / 60_000);
          expect(worst(ours)).toBeLessThanOrEqual(worst(other));
        },
      ),
    );
  });
});
