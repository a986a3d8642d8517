import { describe, expect, test } from 'vitest';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { joinLines } from '@/lib/domain/checkpoints/join-lines';

const [a, b, c] = DEFAULT_CHECKLIST.slice(0, 3) as [
  (typeof DEFAULT_CHECKLIST)[0],
  (typeof DEFAULT_CHECKLIST)[0],
  (typeof DEFAULT_CHECKLIST)[0],
];
const renamed = (item: typeof a, title: string) => ({ ...item, title });
const titles = (lines: readonly { title: string }[]) => lines.map((line) => line.title);

describe('what two leads wrote on top of one version', () => {
  test('keeps the new items of both', () => {
    const mine = { ...a, id: null, title: 'Mine' };
    const theirs = { ...a, id: 'theirs', title: 'Theirs' };
    expect(titles(joinLines([a, b], [a, mine, b], [a, b, theirs]))).toEqual([
      a.title,
      'Mine',
      b.title,
      'Theirs',
    ]);
  });

  test('takes what I left alone from them, and keeps what I changed', () => {
    const mine = [renamed(a, 'Mine'), b, c];
    const theirs = [renamed(a, 'Theirs'), renamed(b, 'Their b'), c];
    expect(titles(joinLines([a, b, c], mine, theirs))).toEqual(['Mine', 'Their b', c.title]);
  });

  test('lets go of what they retired and I left alone, and of what I retired', () => {
    expect(titles(joinLines([a, b, c], [a, b], [b, c]))).toEqual([b.title]);
  });

  test('keeps what I changed though they retired it', () => {
    expect(titles(joinLines([a, b], [renamed(a, 'Mine'), b], [b]))).toEqual(['Mine', b.title]);
  });

  test('counts another order of the views as left alone', () => {
    const turned = { ...a, views: [...a.views].reverse() };
    expect(titles(joinLines([a], [turned], [renamed(a, 'Theirs')]))).toEqual(['Theirs']);
  });

  test('takes an item that both brought back once', () => {
    expect(titles(joinLines([a], [a, b], [a, b]))).toEqual([a.title, b.title]);
  });
});
