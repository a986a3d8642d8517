import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareMeasures,
  SESSION_NOISE_DEG,
  unlike,
  type Conditions,
  type Occasion,
} from '@/lib/domain/measures/change';
import type { Measure } from '@/lib/domain/measures/measure';
import { measureText } from '@/lib/domain/measures/words';

const LIKE: Conditions = { view: 'open_side', captureRate: 120, task: 'tee' };

const buildOccasion = (
  value: number | null,
  half: number,
  change: {
    name?: Measure['name'];
    unit?: Measure['unit'];
    conditions?: Partial<Conditions>;
    sessionId?: string;
  } = {},
): Occasion => ({
  measure: {
    name: change.name ?? 'stride-foot-openness',
    unit: change.unit ?? 'deg',
    status: value === null ? 'refused' : 'measured',
    value,
    interval: value === null ? null : [value - half, value + half],
    reason: value === null ? 'Not seen.' : null,
  },
  conditions: { ...LIKE, ...change.conditions },
  sessionId: change.sessionId ?? 'first',
});
const later = { sessionId: 'second' };

describe('whether a measure changed', () => {
  it('between sessions takes more than ten degrees for an angle', () => {
    expect(SESSION_NOISE_DEG).toBe(10);
    expect(compareMeasures(buildOccasion(62, 4), buildOccasion(47, 4, later))).toEqual({
      kind: 'change',
      difference: -15,
      noise: 10,
    });
    expect(compareMeasures(buildOccasion(62, 4), buildOccasion(53, 4, later)).kind).toBe('within-noise');
    expect(compareMeasures(buildOccasion(62, 1), buildOccasion(52, 1, later)).kind).toBe('within-noise');
  });

  it('takes more than the root of the sum of squares of the two intervals', () => {
    const wide = compareMeasures(buildOccasion(60, 9), buildOccasion(45, 12, later));
    expect(wide).toEqual({ kind: 'within-noise', difference: -15, noise: 15 });
    expect(compareMeasures(buildOccasion(60, 9), buildOccasion(44.9, 12, later)).kind).toBe('change');
    const sameDay = compareMeasures(buildOccasion(60, 3), buildOccasion(66, 4));
    expect(sameDay).toEqual({ kind: 'change', difference: 6, noise: 5 });
  });

  it('has no ten degrees for centimetres', () => {
    const cm = { name: 'stride-length', unit: 'cm' } as const;
    expect(compareMeasures(buildOccasion(80, 1, cm), buildOccasion(84, 1, { ...cm, ...later })).kind).toBe(
      'change',
    );
  });

  it('is not asked across views, rates and tasks, nor where there is no number', () => {
    const against = (conditions: Partial<Conditions>) =>
      compareMeasures(buildOccasion(60, 3), buildOccasion(40, 3, { conditions, ...later }));
    expect(against({ view: 'front' })).toEqual({ kind: 'not-compared', because: ['view'] });
    expect(against({ captureRate: 60 })).toEqual({ kind: 'not-compared', because: ['rate'] });
    expect(against({ task: 'live', view: 'back' })).toEqual({
      kind: 'not-compared',
      because: ['view', 'task'],
    });
    expect(against({ task: null, captureRate: null }).kind).toBe('change');
    const because = ['no-number'];
    expect(compareMeasures(buildOccasion(null, 0), buildOccasion(40, 3))).toEqual({
      kind: 'not-compared',
      because,
    });
    expect(compareMeasures(buildOccasion(40, 3), buildOccasion(null, 0))).toEqual({
      kind: 'not-compared',
      because,
    });
    expect(compareMeasures(buildOccasion(40, 3), buildOccasion(40, 3, { name: 'trunk-lean' }))).toEqual({
      kind: 'not-compared',
      because: ['other-measure'],
    });
    expect(unlike(LIKE, LIKE)).toEqual([]);
  });

  it('is the same question in both directions', () => {
    const value = fc.double({ min: 0, max: 90, noNaN: true });
    const half = fc.double({ min: 0.5, max: 15, noNaN: true });
    fc.assert(
      fc.property(value, value, half, half, (a, b, ha, hb) => {
        const [there, back] = [
          compareMeasures(buildOccasion(a, ha), buildOccasion(b, hb, later)),
          compareMeasures(buildOccasion(b, hb, later), buildOccasion(a, ha)),
        ];
        expect(back.kind).toBe(there.kind);
        if (there.kind === 'not-compared' || back.kind === 'not-compared') throw new Error('They are alike.');
        expect(back.difference).toBeCloseTo(-there.difference, 9);
        expect(back.noise).toBeCloseTo(there.noise, 9);
      }),
    );
  });
});

describe('a measure in words', () => {
  const text = (value: number, half: number, change: Partial<Measure> = {}) =>
    measureText({ ...buildOccasion(value, half).measure, ...change });
  it.each([
    [58.4, 4.2, {}, '58° ± 4°'],
    [58.4, 9, { status: 'estimate' }, 'about 58° ± 9°'],
    [-3.6, 1.7, { unit: 'cm' }, '−4 cm ± 2 cm'],
    [-0.3, 0.2, { unit: 'cm' }, '0 cm ± 1 cm'],
    [180, 6.5, { unit: 'ms' }, '180 ms ± 7 ms'],
  ] as const)('%d and %d read as they should', (value, half, change, expected) => {
    expect(text(value, half, change)).toBe(expected);
  });
  it('is no number when refused', () => {
    expect(measureText(buildOccasion(null, 0).measure)).toBe('not measured');
  });
});
