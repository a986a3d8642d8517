import { describe, expect, it } from 'vitest';
import { contactBySound } from '@/lib/domain/measures/sound-peak';
import { readSound } from '@/lib/review/media/clip-sound';

const RATE = 48_000;

/** A second of quiet with a crack at half a second, as a WAV file (RIFF, 16-bit PCM). */
const wav = () => {
  const count = RATE;
  const view = new DataView(new ArrayBuffer(44 + count * 2));
  const text = (at: number, words: string) =>
    [...words].forEach((letter, i) => view.setUint8(at + i, letter.charCodeAt(0)));
  text(0, 'RIFF');
  view.setUint32(4, 36 + count * 2, true);
  text(8, 'WAVEfmt ');
  [16, 0x00010001, RATE, RATE * 2, 0x00100002].forEach((value, i) => view.setUint32(16 + i * 4, value, true));
  text(36, 'data');
  view.setUint32(40, count * 2, true);
  for (let i = 0; i < count; i++) {
    const since = i - RATE / 2;
    const crack = since >= 0 ? Math.exp(-since / 200) * (since % 2 === 0 ? 1 : -1) : 0;
    view.setInt16(44 + i * 2, 20_000 * crack + ((i * 7919) % 13), true);
  }
  return view.buffer;
};
const reading = (bytes: BlobPart) =>
  readSound(URL.createObjectURL(new Blob([bytes])), new AbortController().signal);

describe('the sound of a clip', () => {
  it('is read so that the crack is found where it is', async () => {
    const sound = (await reading(wav()))!;
    expect(sound.samples.length).toBe(sound.sampleRate);
    expect(contactBySound(sound.samples, sound.sampleRate)).toBeCloseTo(0.5, 2);
  });

  it('is null for a file without one that this browser can read', async () => {
    expect(await reading('no sound at all')).toBeNull();
  });

  it('stops when nobody waits any more', async () => {
    const gone = readSound('/nowhere/review.mp4', AbortSignal.abort());
    await expect(gone).rejects.toMatchObject({ name: 'AbortError' });
  });
});
