import { expect, test } from 'vitest';
import { joinVoice, wavOf } from '@/lib/review/record/join-voice';
import type { Piece } from '@/lib/domain/breakdowns/timeline';

const RATE = 24_000;
/** Seconds of a tone that rises by a hundred hertz each second, from 300. */
const tone = (seconds: number) =>
  Float32Array.from(
    { length: seconds * RATE },
    (_, at) => 0.5 * Math.sin((2 * Math.PI * (300 + 100 * Math.floor(at / RATE)) * at) / RATE),
  );
const decode = async (blob: Blob) =>
  (await new OfflineAudioContext(1, 1, RATE).decodeAudioData(await blob.arrayBuffer())).getChannelData(0);
/** The pitch between two moments by counting how often the sound crosses its middle. */
const pitch = (samples: Float32Array, fromMs: number, toMs: number) => {
  const part = samples.subarray((fromMs * RATE) / 1000, (toMs * RATE) / 1000);
  let crossings = 0;
  for (let at = 1; at < part.length; at += 1)
    if ((part[at - 1] ?? 0) < 0 && (part[at] ?? 0) >= 0) crossings += 1;
  return (crossings * 1000) / (toMs - fromMs);
};
const bytesOf = async (blob: Blob) => new Uint8Array(await blob.arrayBuffer());
const piece = (segmentId: string, fromMs: number, toMs: number, kind: Piece['kind'] = 'voice'): Piece => ({
  ...{ segmentId, fromMs, toMs, kind },
});

test('pieces stand one after the other with their own sound, silence where there is none', async () => {
  const voice = await bytesOf(wavOf(tone(4)));
  const joined = await joinVoice(
    [piece('a', 2000, 3000), piece('b', 0, 500, 'silent'), piece('a', 0, 1000)],
    () => Promise.resolve(voice),
  );
  if (!joined) throw new Error('No voice');
  const samples = await decode(joined);
  expect(samples.length / RATE).toBeCloseTo(2.5, 3);
  expect(pitch(samples, 100, 900)).toBeCloseTo(500, -1);
  expect(Math.max(...samples.subarray(1.05 * RATE, 1.45 * RATE).map(Math.abs))).toBe(0);
  expect(pitch(samples, 1600, 2400)).toBeCloseTo(300, -1);
});

test('a piece longer than its voice ends in silence, one that cannot be read is silent', async () => {
  const voice = await bytesOf(wavOf(tone(1)));
  const joined = await joinVoice([piece('a', 0, 1500), piece('b', 0, 500)], (one) =>
    Promise.resolve(one.segmentId === 'a' ? voice : new Uint8Array([1, 2, 3])),
  );
  if (!joined) throw new Error('No voice');
  const samples = await decode(joined);
  expect(samples.length / RATE).toBeCloseTo(2, 3);
  expect(pitch(samples, 100, 900)).toBeCloseTo(300, -1);
  expect(Math.max(...samples.subarray(1.05 * RATE).map(Math.abs))).toBe(0);
});

test('nothing spoken is no voice at all', async () => {
  expect(await joinVoice([piece('a', 0, 500, 'silent')], () => Promise.resolve(null))).toBeNull();
});
