import { describe, expect, it } from 'vitest';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { itemOfMeasure, loneMeasures, measuresOfItem } from '@/lib/domain/measures/items';
import { MEASURE_NAMES } from '@/lib/domain/measures/names';
import { targetSchema, targetsNow, targetWords, type Target } from '@/lib/domain/measures/target';

const buildTarget = (overrides: Partial<Target> = {}): Target => ({
  measure: 'stride-foot-openness',
  low: null,
  high: 45,
  setAt: new Date('2026-06-01T12:00:00Z'),
  endedAt: null,
  isOwn: false,
  ...overrides,
});

describe('targets', () => {
  it('the player’s own comes before the template, whichever was set first; ended ones do not count', () => {
    const [own, template] = [buildTarget({ isOwn: true, high: 40 }), buildTarget()];
    const ended = buildTarget({ isOwn: true, high: 30, endedAt: new Date('2026-06-02T12:00:00Z') });
    expect(targetsNow([own, template, ended]).get('stride-foot-openness')).toBe(own);
    expect(targetsNow([template, own]).get('stride-foot-openness')).toBe(own);
    expect(targetsNow([ended]).size).toBe(0);
  });

  it.each([
    [{ measure: 'stride-foot-openness', low: null, high: 45 }, 'at most 45°'],
    [{ measure: 'stride-length', low: 70.04, high: null }, 'at least 70 cm'],
    [{ measure: 'head-ahead-of-belt', low: -5, high: 2 }, 'between −5 and 2 cm'],
    [{ measure: 'foot-strike-to-contact', low: 150, high: 200 }, 'between 150 and 200 ms'],
  ] as const)('%j in words: %s', (target, words) => expect(targetWords(target)).toBe(words));

  it('refuses limits that cross', () => {
    expect(targetSchema.safeParse({ measure: 'stride-length', low: 80, high: 70 }).success).toBe(false);
    expect(targetSchema.safeParse({ measure: 'bat-speed', low: 1, high: 2 }).success).toBe(false);
  });
});

describe('where measures stand', () => {
  it('each of them stands once: beside an item of the default checklist, or at its checkpoint', () => {
    for (const name of MEASURE_NAMES) {
      const item = itemOfMeasure(name, DEFAULT_CHECKLIST);
      const isLone = (['foot_strike', 'contact'] as const).some((checkpoint) =>
        loneMeasures(checkpoint, DEFAULT_CHECKLIST).includes(name),
      );
      expect([name, item !== null, isLone]).toEqual([name, !isLone, isLone]);
      if (item) expect(measuresOfItem(item)).toContain(name);
    }
  });

  it('none is lost on a checklist without its item', () => {
    expect(loneMeasures('foot_strike', [])).toContain('stride-foot-openness');
  });
});
