import { describe, expect, test } from 'vitest';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { CagepostError } from '@/lib/domain/shared/errors';
import { assertFitsTable } from '@/lib/review/media/packet-index';

const table: FrameTable = {
  version: 1,
  width: 720,
  height: 1280,
  ptsUs: [0, 33_367, 66_733, 100_100],
  fileRate: 29.97,
  captureRate: null,
};
const file = { width: 720, height: 1280, timestampsUs: table.ptsUs };

const refusal = (change: Partial<typeof file>) => {
  try {
    assertFitsTable(table, { ...file, ...change });
  } catch (error) {
    return error;
  }
  return null;
};

describe('a file against its stored frame table', () => {
  test('passes when the frames are the same up to the rounding of time bases', () => {
    expect(refusal({})).toBeNull();
    expect(refusal({ timestampsUs: table.ptsUs.map((us) => us + 11) })).toBeNull();
  });
  test.each([
    ['another size', { width: 1280, height: 720 }],
    ['a frame too few', { timestampsUs: table.ptsUs.slice(1) }],
    ['a frame too many', { timestampsUs: [...table.ptsUs, 133_467] }],
    ['a frame elsewhere', { timestampsUs: [0, 33_367, 75_000, 100_100] }],
    ['a timestamp that is none', { timestampsUs: [0, 33_367, Number.NaN, 100_100] }],
  ])('is refused with %s, in words for people', (_, change) => {
    const error = refusal(change);
    expect(error).toBeInstanceOf(CagepostError);
    expect(error).toMatchObject({ fault: 'conflict', forPeople: expect.stringContaining('Nothing is lost') });
  });
});
