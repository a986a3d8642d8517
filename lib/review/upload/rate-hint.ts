import type { Input } from 'mediabunny';

/** What the file itself says about how it was taken. */
export interface RateHint {
  /** Pictures a second as they were taken; null when only slow motion as such is noted. */
  captureRate: number | null;
  isSlowMotion: boolean;
}

// Names of the metadata keys, from memory: Android writes the rate as a 32-bit float or as text; an iPhone notes
// whether a clip is meant to play at its full rate (0: it is a slow motion).
const ANDROID_RATE = 'com.android.capture.fps';
const APPLE_INTENT = 'com.apple.quicktime.full-frame-rate-playback-intent';

const numberIn = (value: unknown): number | null => {
  if (typeof value === 'string')
    return Number.isFinite(Number.parseFloat(value)) ? Number.parseFloat(value) : null;
  if (!(value instanceof Uint8Array)) return null;
  const view = new DataView(value.buffer, value.byteOffset, value.byteLength);
  if (value.byteLength === 4) {
    const float = view.getFloat32(0);
    // An integer of that size read as a float is next to nothing.
    return float > 1 ? float : view.getInt32(0);
  }
  if (value.byteLength === 1) return view.getInt8(0);
  return value.byteLength === 8 ? Number(view.getBigInt64(0)) : null;
};

/** Reads the hints out of a file's metadata, before `scrubLocation` blanks it; null when it gives none. */
export const readRateHint = async (input: Input): Promise<RateHint | null> => {
  const raw: Record<string, unknown> = (await input.getMetadataTags()).raw ?? {};
  const rate = numberIn(raw[ANDROID_RATE]);
  if (rate !== null && rate >= 1 && rate <= 2000) return { captureRate: rate, isSlowMotion: rate > 60 };
  return numberIn(raw[APPLE_INTENT]) === 0 && raw[APPLE_INTENT] !== undefined
    ? { captureRate: null, isSlowMotion: true }
    : null;
};
