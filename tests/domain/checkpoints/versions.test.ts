import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checklistSchema } from '@/lib/domain/checkpoints/checklist';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import {
  checklistLinesSchema,
  nextChecklist,
  versionChanges,
  type ChecklistLine,
} from '@/lib/domain/checkpoints/versions';

const [first, second] = DEFAULT_CHECKLIST;
const used = new Set(DEFAULT_CHECKLIST.map((item) => item.id));
const fresh = (over: Partial<ChecklistLine> = {}): ChecklistLine => ({
  id: null,
  checkpoint: 'contact',
  title: 'Hands inside the ball',
  lookFor: '',
  views: ['front'],
  standing: 'Common practice, no source',
  ...over,
});

describe('the next version', () => {
  test('keeps the ids of items that stay and gives new ones an id of their own', () => {
    const next = nextChecklist([...DEFAULT_CHECKLIST, fresh(), fresh()], used)!;
    expect(next.filter((item) => used.has(item.id))).toHaveLength(DEFAULT_CHECKLIST.length);
    expect(next.filter((item) => !used.has(item.id)).map((item) => item.id)).toEqual([
      'hands-inside-the-ball',
      'hands-inside-the-ball-2',
    ]);
  });

  test('never gives a new item the id of a retired one of the same name', () => {
    const [again] = nextChecklist(
      [fresh({ title: first!.title })],
      new Set(['head-turned-fully-to-the-pitcher']),
    )!;
    expect(again!.id).toBe('head-turned-fully-to-the-pitcher-2');
  });

  test('is null when a line carries an id that never was, or the same twice', () => {
    expect(nextChecklist([fresh({ id: 'made-up' })], used)).toBeNull();
    expect(nextChecklist([first!, first!], used)).toBeNull();
  });

  test('parses as a stored checklist, in checkpoint order, whatever the names', () => {
    const line = fc.record({
      id: fc.constant(null),
      checkpoint: fc.constantFrom(...CHECKPOINTS),
      title: fc.string({ unit: 'binary', minLength: 1, maxLength: 80 }),
      lookFor: fc.constant(''),
      views: fc.constant<ChecklistLine['views']>(['back', 'open_side']),
      standing: fc.constant('x'),
    });
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 40 }), (lines) => {
        const next = nextChecklist(lines, used)!;
        expect(checklistSchema.parse(next)).toEqual(next);
        const places = next.map((item) => CHECKPOINTS.indexOf(item.checkpoint));
        expect(places).toEqual([...places].sort((a, b) => a - b));
        expect(next.every((item) => !used.has(item.id))).toBe(true);
      }),
    );
  });
});

describe('what a lead writes', () => {
  test.each([
    ['no item', [], /at least one item/],
    ['no name', [fresh({ title: '  ' })], /name/],
    ['no view', [fresh({ views: [] })], /from where/],
    ['no standing', [fresh({ standing: '' })], /where it comes from/],
    ['too many', Array.from({ length: 41 }, () => fresh()), /at most 40/],
  ])('%s is refused in words', (_what, lines, words) => {
    const parsed = checklistLinesSchema.safeParse(lines);
    expect(parsed.error?.issues[0]?.message).toMatch(words);
  });
});

describe('what differs', () => {
  test('nothing between a version and itself', () => {
    expect(versionChanges(DEFAULT_CHECKLIST, DEFAULT_CHECKLIST)).toEqual([]);
  });

  test('names what is new, retired, renamed, moved, reworded, seen from elsewhere', () => {
    const own = { ...first!, id: 'own', title: 'Own' };
    const after = [
      {
        ...second!,
        title: 'Renamed',
        checkpoint: 'load' as const,
        lookFor: 'Else.',
        views: ['back' as const],
      },
      own,
    ];
    expect(versionChanges([first!, second!], after)).toEqual([
      'New: “Own”.',
      `Retired: “${first!.title}”.`,
      `“${second!.title}” is now called “Renamed”.`,
      '“Renamed” moved from Stance to Load.',
      'What to look for at “Renamed” was written anew.',
      '“Renamed” is judged from back (before: open side, front, back).',
    ]);
    expect(versionChanges([first!], [{ ...first!, standing: 'A study' }])).toEqual([
      `“${first!.title}” comes from: A study (before: Common practice, no source).`,
    ]);
  });

  test('tells another order once for its checkpoint, and not when items only came or went', () => {
    expect(versionChanges([first!, second!], [second!, first!])).toEqual([
      'The items of Stance stand in another order.',
    ]);
    expect(versionChanges([first!, second!], [second!])).toEqual([`Retired: “${first!.title}”.`]);
  });
});
