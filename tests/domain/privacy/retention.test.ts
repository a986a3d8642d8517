import { describe, expect, test } from 'vitest';
import {
  addCounts,
  countLines,
  daysInWords,
  deadlinesOf,
  deadlinesSchema,
  DEFAULT_DEADLINES,
  dueBefore,
  RETENTION,
  RETENTION_CLASSES,
} from '@/lib/domain/privacy/retention';

describe('every class', () => {
  test.each(RETENTION_CLASSES)(
    '%s has a default between its bounds, and says where it comes from',
    (name) => {
      const { days, min, max, why, goes, title, from } = RETENTION[name];
      expect(min).toBeGreaterThanOrEqual(1);
      expect(days).toBeGreaterThanOrEqual(min);
      expect(days).toBeLessThanOrEqual(max);
      expect(why).toMatch(/ommon practice, no source/);
      for (const words of [goes, title]) expect(words).toMatch(/^[A-Z]/);
      expect(from).toMatch(/^after /);
    },
  );

  // 16 CFR 312.10 (eCFR, 16 June 2026): "shall not retain such information indefinitely".
  test.each(RETENTION_CLASSES)('%s cannot be set to for ever', (name) => {
    const { max } = RETENTION[name];
    expect(Number.isFinite(max)).toBe(true);
    expect(deadlinesSchema.safeParse({ ...DEFAULT_DEADLINES, [name]: max }).success).toBe(true);
    expect(deadlinesSchema.safeParse({ ...DEFAULT_DEADLINES, [name]: max + 1 }).success).toBe(false);
  });

  test.each(['money', 'safeguarding', 'shown'] as const)('%s cannot be set away', (name) => {
    const { min, title } = RETENTION[name];
    expect(min).toBeGreaterThanOrEqual(3 * 365);
    expect(deadlinesSchema.safeParse({ ...DEFAULT_DEADLINES, [name]: min }).success).toBe(true);
    const refused = deadlinesSchema.safeParse({ ...DEFAULT_DEADLINES, [name]: min - 1 });
    expect(refused.error?.issues.map((issue) => issue.message)).toEqual([`${title}: at least ${min} days.`]);
  });

  test('takes whole days only', () => {
    const refused = deadlinesSchema.safeParse({ ...DEFAULT_DEADLINES, drafts: 30.5 });
    expect(refused.error?.issues[0]?.message).toBe('Swings that were never sent: write whole days.');
    expect(deadlinesSchema.safeParse({}).success).toBe(false);
  });
});

describe('what is stored', () => {
  test('nothing is all defaults', () => {
    expect(deadlinesOf(null)).toEqual(DEFAULT_DEADLINES);
    expect(deadlinesOf('nonsense')).toEqual(DEFAULT_DEADLINES);
  });

  test('holds where it fits its bounds; what does not has its default', () => {
    const stored = { originals: 30, money: 1, films: '7 days', unknown: 4 };
    expect(deadlinesOf(stored)).toEqual({ ...DEFAULT_DEADLINES, originals: 30 });
  });
});

test('due is what began before as many whole days', () => {
  const now = new Date('2026-11-26T08:20:00Z');
  expect(dueBefore(now, 1)).toEqual(new Date('2026-11-25T08:20:00Z'));
  expect(dueBefore(now, 365)).toEqual(new Date('2025-11-26T08:20:00Z'));
});

test.each([
  [1, '1 day'],
  [90, '90 days'],
  [365, '1 year'],
  [730, '2 years'],
  [731, '731 days'],
])('%d days are "%s"', (days, words) => {
  expect(daysInWords(days)).toBe(words);
});

describe('a night’s journal', () => {
  test('adds up, class by class, and leaves out what is not known or nothing', () => {
    expect(addCounts({ drafts: 2, nonsense: 4 }, { drafts: 1, films: 0 })).toEqual({ drafts: 3 });
    expect(addCounts(null, { erased: 1 })).toEqual({ erased: 1 });
    expect(addCounts({ drafts: -2 }, { strays: 1 })).toEqual({ strays: 1 });
  });

  test('reads as lines in the order of the classes', () => {
    expect(countLines({ strays: 3, originals: 2, 'sign-in': 1, erased: 1 })).toEqual([
      { title: 'Original files', count: 2 },
      { title: 'Used sign-in links, ended sessions and counts of tries, once they mean nothing', count: 1 },
      { title: 'People erased', count: 1 },
      { title: 'Files that belonged to nothing', count: 3 },
    ]);
  });
});
