import { describe, expect, it } from 'vitest';
import { taggedFocal } from '@/lib/domain/clips/lens-tag';

const APPLE = 'com.apple.quicktime.camera.focal_length.35mm_equivalent';
const bytes = (...of: number[]) => new Uint8Array(of);
const float32 = (value: number) => {
  const view = new DataView(new ArrayBuffer(4));
  view.setFloat32(0, value);
  return new Uint8Array(view.buffer);
};

describe('taggedFocal', () => {
  it.each([
    ['text', '26', 26],
    ['text with a unit', '24.5 mm', 24.5],
    ['one byte', bytes(26), 26],
    ['four bytes of an integer', bytes(0, 0, 0, 28), 28],
    ['eight bytes of an integer', bytes(0, 0, 0, 0, 0, 0, 0, 13), 13],
    ['a float', float32(77), 77],
  ])('reads %s', (_, value, millimetres) => {
    expect(taggedFocal({ other: 'x', [APPLE]: value })).toBe(millimetres);
  });

  it.each([
    ['nothing', {}],
    ['another tag', { 'com.apple.quicktime.make': 'Apple', focal_length: '4.2' }],
    ['words', { [APPLE]: 'wide' }],
    ['a lens that cannot be', { [APPLE]: '0' }],
    ['bytes of an odd length', { [APPLE]: bytes(1, 2, 3) }],
  ])('tells nothing from %s', (_, tags) => {
    expect(taggedFocal(tags)).toBeNull();
  });
});
