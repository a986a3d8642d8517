/**
 * The lens as a phone wrote it into a file, in millimetres of a 35 mm camera; null when it did not. iPhones write
 * `com.apple.quicktime.camera.focal_length.35mm_equivalent` (from memory); other makers use a like ending.
 */
export function taggedFocal(metadata: Readonly<Record<string, unknown>>): number | null {
  for (const [key, value] of Object.entries(metadata)) {
    if (!/focal[._-]?length.*35[._-]?mm/i.test(key)) continue;
    const millimetres = numberIn(value);
    if (millimetres !== null && millimetres >= 4 && millimetres <= 1000) return millimetres;
  }
  return null;
}

// As text, or in the bytes of a QuickTime value: big-endian integers of 1 to 8 bytes, or a float of 4 or 8.
const numberIn = (value: unknown): number | null => {
  if (typeof value === 'number') return value;
  if (typeof value === 'string') {
    const number = Number.parseFloat(value);
    return Number.isFinite(number) ? number : null;
  }
  if (!(value instanceof Uint8Array)) return null;
  const view = new DataView(value.buffer, value.byteOffset, value.byteLength);
  switch (value.byteLength) {
    case 1:
      return view.getUint8(0);
    case 2:
      return view.getUint16(0);
    case 4: {
      const float = view.getFloat32(0);
      // An integer of that size read as a float is next to nothing.
      return float > 1 ? float : view.getUint32(0);
    }
    case 8: {
      const float = view.getFloat64(0);
      return float > 1 ? float : Number(view.getBigUint64(0));
    }
    default:
      return null;
  }
};
