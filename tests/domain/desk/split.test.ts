import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { medianMinutes, paceOf } from '@/lib/domain/desk/load';
import { planSplit, type CoachToGive, type LessonToGive } from '@/lib/domain/desk/split';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { officeHours } from '../../support/office-hours';

const now = new Date('2026-11-27T16:00:00Z'); // a Friday, 10 am in Chicago
const MINUTE = 60_000;
const chicago = { hours: null, timeZone: 'America/Chicago' };
const coach = (id: string, over: Partial<CoachToGive> = {}): CoachToGive => ({
  id: id as PersonId,
  isCleared: true,
  load: 0,
  pace: 10,
  clock: chicago,
  ...over,
});
const lesson = (id: string, inMinutes: number, over: Partial<LessonToGive> = {}): LessonToGive => ({
  id: id as LessonId,
  promisedAt: new Date(now.getTime() + inMinutes * MINUTE),
  isMinor: false,
  coachId: null,
  ...over,
});
const goesTo = (plan: ReturnType<typeof planSplit>) =>
  Object.fromEntries(plan.map((gift) => [gift.lessonId, gift.coachId]));

describe('lessons are shared', () => {
  test('evenly among coaches alike, nearest promise first', () => {
    const plan = planSplit(
      ['a', 'b', 'c', 'd'].map((id, i) => lesson(id, 60 - i)),
      [coach('x'), coach('y')],
      now,
    );
    expect(plan.map((gift) => gift.lessonId)).toEqual(['d', 'c', 'b', 'a']);
    expect(goesTo(plan)).toEqual({ d: 'x', c: 'y', b: 'x', a: 'y' });
    expect(plan.map((gift) => gift.doneAt!.getTime() - now.getTime())).toEqual(
      [10, 10, 20, 20].map((m) => m * MINUTE),
    );
  });

  test('less to those who have more already, or need longer', () => {
    const lessons = ['a', 'b', 'c', 'd'].map((id, i) => lesson(id, 100 + i));
    const count = (coaches: CoachToGive[]) =>
      planSplit(lessons, coaches, now).filter((gift) => gift.coachId === 'x').length;
    expect(count([coach('x', { load: 4 }), coach('y')])).toBe(0);
    expect(count([coach('x', { pace: 30 }), coach('y')])).toBe(1);
  });

  test('not to somebody who is away when somebody else is there', () => {
    const away = coach('x', {
      clock: { hours: officeHours({ from: '2026-11-27' }), timeZone: 'America/Chicago' },
    });
    expect(goesTo(planSplit([lesson('a', 60)], [away, coach('y', { load: 20 })], now))).toEqual({ a: 'y' });
    const [alone] = planSplit([lesson('a', 60)], [away], now);
    expect(alone).toEqual({
      lessonId: 'a',
      coachId: 'x',
      doneAt: new Date('2026-11-30T15:10:00Z'),
      isLate: true,
    });
  });

  test('what a coach has and is to be given out does not count against them', () => {
    const plan = planSplit(
      [lesson('a', 10, { coachId: 'x' as PersonId })],
      [coach('x', { load: 1 }), coach('y')],
      now,
    );
    expect(goesTo(plan)).toEqual({ a: 'x' });
  });

  test('a lesson that was put somewhere stays there, and the others make room for it', () => {
    const chosen = new Map<LessonId, PersonId | null>([
      ['a' as LessonId, 'x' as PersonId],
      ['b' as LessonId, null],
    ]);
    const plan = planSplit(
      [lesson('a', 1), lesson('b', 2), lesson('c', 3)],
      [coach('x'), coach('y')],
      now,
      chosen,
    );
    expect(goesTo(plan)).toEqual({ a: 'x', b: null, c: 'y' });
  });
});

test('a minor’s lesson is never proposed to a coach without checks; without any coach it stays', () => {
  const lessons = fc.array(
    fc.record({ minutes: fc.integer({ min: -500, max: 3000 }), isMinor: fc.boolean() }),
    { maxLength: 30 },
  );
  const coaches = fc.array(
    fc.record({ isCleared: fc.boolean(), load: fc.nat({ max: 30 }), pace: fc.integer({ min: 1, max: 60 }) }),
    { maxLength: 6 },
  );
  fc.assert(
    fc.property(lessons, coaches, (some, staff) => {
      const given = some.map(({ minutes, isMinor }, i) => lesson(String(i), minutes, { isMinor }));
      const among = staff.map((facts, i) => coach(`c${i}`, facts));
      const plan = planSplit(given, among, now);
      expect(plan.map((gift) => gift.lessonId).sort()).toEqual(given.map(({ id }) => id).sort());
      for (const gift of plan) {
        const one = given.find(({ id }) => id === gift.lessonId)!;
        const open = among.filter(({ isCleared }) => isCleared || !one.isMinor);
        if (open.length === 0) expect(gift.coachId).toBeNull();
        else expect(open.map(({ id }) => id)).toContain(gift.coachId);
        expect(gift.isLate).toBe(gift.doneAt !== null && gift.doneAt > one.promisedAt);
      }
    }),
  );
});

describe('how long the latest took', () => {
  const returned = (minutes: number, review: number | null = null) => ({
    submittedAt: now,
    takenAt: review === null ? null : new Date(now.getTime() + (minutes - review) * MINUTE),
    returnedAt: new Date(now.getTime() + minutes * MINUTE),
  });
  test.each([
    [[], null],
    [[30], 30],
    [[10, 500, 20], 20],
    [[10, 20, 30, 500], 25],
  ])('the median of %j is %j', (minutes, median) => {
    expect(medianMinutes(minutes.map((one) => returned(one)))).toBe(median);
  });
  test('the pace is from taken to returned, and a guess without enough of them', () => {
    expect(paceOf({ returned: [returned(300, 9), returned(400, 7), returned(100, 8)] })).toBe(8);
    expect(paceOf({ returned: [returned(300), returned(400, 7)] })).toBe(12);
  });
});
