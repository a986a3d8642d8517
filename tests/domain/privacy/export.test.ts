import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cutIntoParts, downloadName, fileWord, sizeInWords } from '@/lib/domain/privacy/export';
import { isOriginal, ownerOf, personalPart } from '@/lib/domain/privacy/files';

describe('cutting into parts', () => {
  const sizes = (...bytes: number[]) => bytes.map((size) => ({ bytes: size }));
  const cut = (files: { bytes: number }[], head: number, most: number) =>
    cutIntoParts(files, head, most).map((part) => part.map((one) => one.bytes));

  test('keeps the order, and a part under its limit', () => {
    expect(cut(sizes(4, 4, 4), 2, 10)).toEqual([[4, 4], [4]]);
    expect(cut(sizes(4, 4, 4), 3, 10)).toEqual([[4], [4, 4]]);
    expect(cut([], 2, 10)).toEqual([[]]);
  });

  test('gives a file that is too large a part of its own', () => {
    expect(cut(sizes(20, 1), 2, 10)).toEqual([[], [20], [1]]);
    expect(cut(sizes(1, 20, 1), 2, 10)).toEqual([[1], [20], [1]]);
  });

  test('loses nothing, whatever comes', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 30 })), fc.integer({ min: 0, max: 9 }), (list, head) => {
        const files = sizes(...list);
        const parts = cutIntoParts(files, head, 10);
        expect(parts.flat()).toEqual(files);
        for (const [at, part] of parts.entries()) {
          const sum = part.reduce((total, one) => total + one.bytes, at === 0 ? head : 0);
          expect(sum <= 10 || part.length === 1).toBe(true);
          if (at > 0) expect(part.length).toBeGreaterThan(0);
        }
      }),
    );
  });
});

test('names are such that every system takes them', () => {
  expect(fileWord('Márta  O’Neil / Jr.')).toBe('marta-o-neil-jr');
  expect(fileWord('../..')).toBe('file');
  expect(fileWord('x'.repeat(80))).toHaveLength(40);
  expect(downloadName('Wren Sample', 1, 1)).toBe('everything-about-wren-sample.zip');
  expect(downloadName('Wren Sample', 2, 3)).toBe('everything-about-wren-sample-2-of-3.zip');
});

test.each([
  [0, '0 bytes'],
  [999, '999 bytes'],
  [1000, '1.0 kB'],
  [3_240_000, '3.2 MB'],
  [45_000_000, '45 MB'],
  [2_000_000_000_000, '2000 GB'],
])('%d bytes are "%s"', (bytes, words) => {
  expect(sizeInWords(bytes)).toBe(words);
});

describe('keys of the storage', () => {
  const id = '0190a6a2-0000-7000-8000-000000000001';

  test.each(['clips', 'breakdowns', 'remarks', 'documents', 'personal'] as const)(
    '%s have an owner',
    (folder) => {
      expect(ownerOf(`${folder}/${id}/parts/a-0`)).toEqual({ folder, id, file: 'parts/a-0' });
    },
  );

  test.each([`clips/${id}`, `clips/nobody/a.mp4`, `others/${id}/a.mp4`, 'clips', ''])(
    '%s has none',
    (key) => {
      expect(ownerOf(key)).toBeNull();
    },
  );

  test('the parts of a copy count from one', () => {
    expect(personalPart(id, 1)).toBe(`personal/${id}/part-1.zip`);
  });

  test('originals are known by their name', () => {
    expect(['original.mov', 'aside.mp4', 'review.mp4', 'originals.json'].map(isOriginal)).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});
