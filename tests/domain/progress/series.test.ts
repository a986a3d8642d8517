import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { placeOf, seriesOf, targetSteps } from '@/lib/domain/progress/series';
import { aTarget, DAY, dayOf, lessonsOf } from './build-series';

const NAME = 'stride-foot-openness';
const of = (...given: Parameters<typeof lessonsOf>) => seriesOf(NAME, lessonsOf(...given), []);

describe('what is joined by a line', () => {
  test('numbers come by in the same way, lesson after lesson', () => {
    expect(
      of([
        [62, 4],
        [55, 4],
        [47, 4],
      ]).segments,
    ).toEqual([[0, 1, 2]]);
  });

  test.each([
    ['another view', { view: 'behind' as const }, 'view'],
    ['another rate', { captureRate: 30 }, 'rate'],
    ['hit in another way', { task: 'live' }, 'task'],
  ])('%s is flagged and parts the line', (_what, conditions, flag) => {
    const series = of(
      [
        [62, 4],
        [60, 4],
        [55, 4],
        [52, 4],
      ],
      { 2: conditions, 3: conditions },
    );
    expect(series.segments).toEqual([
      [0, 1],
      [2, 3],
    ]);
    expect(series.points.map((point) => point.unlikeBefore)).toEqual([[], [], [flag], []]);
  });

  test('a refusal parts the line and keeps its reason; a lesson on which nothing was set does neither', () => {
    const series = of([[62, 4], [60, 4], 'The plate was out of the picture.', [55, 4], null, [50, 4]]);
    expect(series.segments).toEqual([
      [0, 1],
      [3, 5],
    ]);
    expect(series.points.map(({ value, reason }) => [value, reason])).toEqual([
      [62, null],
      [60, null],
      [null, 'The plate was out of the picture.'],
      [55, null],
      [null, null],
      [50, null],
    ]);
  });

  test('a single number is a point without a line', () => {
    expect(of([null, [62, 4], 'No.']).segments).toEqual([]);
  });
});

describe('what the newest number is held against', () => {
  test('the first of all without a target', () => {
    const series = of([
      [62, 4],
      [55, 4],
      [47, 4],
    ]);
    expect([series.reference?.number, series.newest?.number]).toEqual([1, 3]);
    expect(series.change).toMatchObject({ kind: 'change', difference: -15, noise: 10 });
  });

  test('the lesson on which the target was set', () => {
    const lessons = lessonsOf([
      [78, 8],
      [74, 8],
      [75, 6],
      [70, 6],
      [61, 4],
    ]);
    const set = new Date(dayOf(2).getTime() + DAY);
    const series = seriesOf(NAME, lessons, [aTarget({ setAt: set })]);
    expect(series.reference?.number).toBe(3);
    expect(series.band).toEqual({ from: 2, low: 65, high: 85 });
  });

  test('the first again when the target was set after the newest lesson, or has ended', () => {
    const lessons = lessonsOf([
      [62, 4],
      [55, 4],
      [47, 4],
    ]);
    const late = aTarget({ setAt: new Date(dayOf(2).getTime() + DAY) });
    const ended = aTarget({ setAt: dayOf(1), endedAt: dayOf(2) });
    for (const target of [late, ended]) expect(seriesOf(NAME, lessons, [target]).reference?.number).toBe(1);
  });

  test('never one that was come by in another way: the newest two that are alike are', () => {
    const series = of(
      [
        [62, 4],
        [47, 4],
        [40, 4],
      ],
      { 2: { view: 'front' } },
    );
    expect([series.reference?.number, series.compared?.number, series.newest?.number]).toEqual([1, 2, 3]);
    expect(series.change).toMatchObject({ kind: 'change', difference: -15 });
    const apart = of(
      [
        [62, 4],
        [47, 4],
      ],
      { 1: { view: 'front' } },
    );
    expect(apart).toMatchObject({ compared: null, reference: null, change: null, band: null });
  });

  test('nothing when there is one number, or none', () => {
    expect(of([[62, 4]])).toMatchObject({ reference: null, change: null, band: null });
    expect(of(['No.', null])).toMatchObject({ newest: null, reference: null, band: null });
  });
});

describe('the noise band', () => {
  test('is at least 10 degrees to each side for angles, from the reference on', () => {
    expect(of([null, [75, 3], [61, 3]]).band).toEqual({ from: 1, low: 65, high: 85 });
  });

  test('is the two intervals together where they are wider', () => {
    const band = of([
      [75, 9],
      [61, 12],
    ]).band;
    expect(band?.low).toBeCloseTo(60, 9);
    expect(band?.high).toBeCloseTo(90, 9);
  });

  test('times have no least noise', () => {
    const lessons = lessonsOf(
      [
        [175, 8],
        [167, 6],
      ],
      {},
      'foot-strike-to-contact',
    );
    expect(seriesOf('foot-strike-to-contact', lessons, []).band).toEqual({ from: 0, low: 165, high: 185 });
  });

  test('a change is claimed only outside it, whatever the numbers', () => {
    const number = fc.tuple(fc.integer({ min: -40, max: 120 }), fc.integer({ min: 1, max: 20 }));
    fc.assert(
      fc.property(fc.array(number, { minLength: 2, maxLength: 8 }), (numbers) => {
        const { band, newest, change } = of(numbers);
        const isOutside = newest!.value! < band!.low || newest!.value! > band!.high;
        expect(change?.kind).toBe(isOutside ? 'change' : 'within-noise');
        expect(band!.high - band!.low).toBeGreaterThanOrEqual(20 - 1e-9);
      }),
    );
  });
});

describe('the target line', () => {
  const lessons = lessonsOf([
    [60, 4],
    [60, 4],
    [60, 4],
    [60, 4],
  ]);

  test('begins on the day it was set, between the lessons that it lies between', () => {
    const set = new Date(dayOf(1).getTime() + 3.5 * DAY);
    expect(targetSteps([aTarget({ setAt: set })], lessons)).toEqual([
      { from: 1.5, to: null, low: null, high: 45, since: set },
    ]);
  });

  test('a new target ends the old one', () => {
    const steps = targetSteps(
      [aTarget({ high: 50, setAt: dayOf(0), endedAt: dayOf(2) }), aTarget({ high: 45, setAt: dayOf(2) })],
      lessons,
    );
    expect(steps.map(({ from, to, high }) => [from, to, high])).toEqual([
      [0, 2, 50],
      [2, null, 45],
    ]);
  });

  test('the player’s own stands before the program’s, which comes back when it ends', () => {
    const program = aTarget({ high: 50, isOwn: false, setAt: dayOf(0) });
    const own = aTarget({ high: 40, setAt: dayOf(1), endedAt: dayOf(2) });
    expect(targetSteps([program, own], lessons).map(({ from, to, high }) => [from, to, high])).toEqual([
      [0, 1, 50],
      [1, 2, 40],
      [2, null, 50],
    ]);
  });

  test('one that was taken away leaves no line after it', () => {
    expect(targetSteps([aTarget({ setAt: dayOf(0), endedAt: dayOf(1) })], lessons)).toEqual([
      { from: 0, to: 1, low: null, high: 45, since: dayOf(0) },
    ]);
  });

  test('targets of another measure play no part', () => {
    const other = aTarget({ measure: 'stride-length' });
    expect(seriesOf(NAME, lessons, [other]).targets).toEqual([]);
  });

  test('a day before the first lesson and one after the last lie half a place outside', () => {
    expect(placeOf(new Date(dayOf(0).getTime() - 90 * DAY), lessons)).toBe(-0.5);
    expect(placeOf(new Date(dayOf(3).getTime() + 90 * DAY), lessons)).toBe(3.5);
    expect([0, 1, 2, 3].map((index) => placeOf(dayOf(index), lessons))).toEqual([0, 1, 2, 3]);
  });
});
