import { writeFile } from 'node:fs/promises';

const SAMPLES_PER_SECOND = 48_000;
const EVERY_S = 0.97;

/** Writes a sound of short bursts (2 kHz, 6 ms) at regular distances, as a WAV file of 16 bits, mono. */
export const writeClicks = async (file: string, seconds: number): Promise<void> => {
  const samples = new Int16Array(seconds * SAMPLES_PER_SECOND);
  for (let start = EVERY_S; start < seconds - 0.1; start += EVERY_S)
    for (let at = 0; at < 0.006 * SAMPLES_PER_SECOND; at += 1)
      samples[Math.round(start * SAMPLES_PER_SECOND) + at] =
        28_000 * Math.sin((2 * Math.PI * 2000 * at) / SAMPLES_PER_SECOND + Math.PI / 2);
  const head = Buffer.alloc(44);
  head.write('RIFF', 0);
  head.writeUInt32LE(36 + samples.byteLength, 4);
  head.write('WAVEfmt ', 8);
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20);
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(SAMPLES_PER_SECOND, 24);
  head.writeUInt32LE(SAMPLES_PER_SECOND * 2, 28);
  head.writeUInt16LE(2, 32);
  head.writeUInt16LE(16, 34);
  head.write('data', 36);
  head.writeUInt32LE(samples.byteLength, 40);
  await writeFile(file, Buffer.concat([head, Buffer.from(samples.buffer)]));
};
