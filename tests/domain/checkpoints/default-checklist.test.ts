import { describe, expect, test } from 'vitest';
import { checklistSchema } from '@/lib/domain/checkpoints/checklist';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';

describe('the checklist a new program starts with', () => {
  test('parses as it stands, every id once', () => {
    expect(checklistSchema.parse(DEFAULT_CHECKLIST)).toEqual(DEFAULT_CHECKLIST);
    const ids = DEFAULT_CHECKLIST.map((item) => item.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test('has something to judge at every checkpoint, in the order of the swing', () => {
    const places = DEFAULT_CHECKLIST.map((item) => CHECKPOINTS.indexOf(item.checkpoint));
    expect(new Set(places).size).toBe(CHECKPOINTS.length);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  test.each(DEFAULT_CHECKLIST)(
    '$id says what to look for, from where, and that no study stands behind it',
    (item) => {
      expect(item.standing).toBe('Common practice, no source');
      expect(item.lookFor.length).toBeGreaterThan(20);
      expect(new Set(item.views).size).toBe(item.views.length);
    },
  );

  test('two items that share an id, and none at all, are refused', () => {
    expect(checklistSchema.safeParse([DEFAULT_CHECKLIST[0], DEFAULT_CHECKLIST[0]]).success).toBe(false);
    expect(checklistSchema.safeParse([]).success).toBe(false);
  });
});
