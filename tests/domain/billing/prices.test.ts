import { describe, expect, test } from 'vitest';
import { MOST_MINOR } from '@/lib/domain/billing/entry-refusals';
import {
  isSamePrice,
  MOST_PACK_LESSONS,
  MOST_VALID_DAYS,
  priceFault,
  type PriceDraft,
} from '@/lib/domain/billing/prices';

const pack: PriceDraft = { kind: 'pack', label: 'Five', lessons: 5, validDays: 365, amountMinor: 15000 };
const lesson: PriceDraft = {
  kind: 'lesson',
  label: 'One lesson',
  lessons: 1,
  validDays: null,
  amountMinor: 3500,
};

describe('a line of the price list', () => {
  test.each<[string, PriceDraft, RegExp | null]>([
    ['a pack', pack, null],
    ['a lesson', lesson, null],
    ['a free lesson', { ...lesson, amountMinor: 0 }, null],
    ['without a name', { ...pack, label: ' ' }, /name/],
    ['below zero', { ...lesson, amountMinor: -1 }, /below zero/],
    ['half a cent', { ...lesson, amountMinor: 0.5 }, /decimals/],
    ['the most', { ...lesson, amountMinor: MOST_MINOR }, null],
    ['more than a column holds', { ...lesson, amountMinor: MOST_MINOR + 1 }, /decimals/],
    ['two single lessons', { ...lesson, lessons: 2 }, /one lesson/],
    ['a pack for nothing', { ...pack, amountMinor: 0 }, /needs a price/],
    ['a pack of one', { ...pack, lessons: 1 }, /2 to 200 lessons/],
    ['a pack of two', { ...pack, lessons: 2 }, null],
    ['a pack of the most', { ...pack, lessons: MOST_PACK_LESSONS }, null],
    ['a pack of more', { ...pack, lessons: MOST_PACK_LESSONS + 1 }, /lessons/],
    ['a pack of two and a half', { ...pack, lessons: 2.5 }, /lessons/],
    ['valid for a day', { ...pack, validDays: 1 }, null],
    ['valid for the longest', { ...pack, validDays: MOST_VALID_DAYS }, null],
    ['valid for longer', { ...pack, validDays: MOST_VALID_DAYS + 1 }, /1 to 3650 days/],
    ['valid for nothing', { ...pack, validDays: 0 }, /days/],
    ['valid for ever', { ...pack, validDays: null }, /days/],
  ])('%s', (_what, draft, fault) => {
    if (fault) expect(priceFault(draft)).toMatch(fault);
    else expect(priceFault(draft)).toBeNull();
    expect(priceFault(draft) ?? 'Nothing was changed.').toMatch(/Nothing was changed\.$/);
  });

  test.each<[keyof PriceDraft, PriceDraft]>([
    ['label', { ...pack, label: 'Six' }],
    ['lessons', { ...pack, lessons: 6 }],
    ['validDays', { ...pack, validDays: 30 }],
    ['amountMinor', { ...pack, amountMinor: 1 }],
    ['kind', { ...pack, kind: 'lesson' }],
  ])('another %s makes a new version', (_field, other) => {
    expect(isSamePrice(pack, other)).toBe(false);
    expect(isSamePrice(other, { ...other })).toBe(true);
  });
});
