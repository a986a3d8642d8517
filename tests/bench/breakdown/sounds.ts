import { writeFile } from 'node:fs/promises';

const SAMPLES_PER_SECOND = 48_000;
const EVERY_S = 0.97;

/** Samples from -32768 to 32767 as a WAV file of 16 bits, mono. */
const writeWav = async (file: string, samples: Int16Array<ArrayBuffer>): Promise<void> => {
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

/** Writes short bursts (2 kHz, 6 ms) at regular distances. */
export const writeClicks = async (file: string, seconds: number): Promise<void> => {
  const samples = new Int16Array(seconds * SAMPLES_PER_SECOND);
  for (let start = EVERY_S; start < seconds - 0.1; start += EVERY_S)
    for (let at = 0; at < 0.006 * SAMPLES_PER_SECOND; at += 1)
      samples[Math.round(start * SAMPLES_PER_SECOND) + at] =
        28_000 * Math.sin((2 * Math.PI * 2000 * at) / SAMPLES_PER_SECOND + Math.PI / 2);
  await writeWav(file, samples);
};

/** Centres of the first two formants of some vowels in hertz (Peterson and Barney 1952, men, from memory). */
const VOWELS = [
  [730, 1090],
  [270, 2290],
  [300, 870],
  [530, 1840],
  [570, 840],
] as const;

/**
 * Writes something that is as hard to encode as speech: syllables of a fifth of a second, each a vowel over a falling
 * pitch with a hiss before it, and a breath after every eighth.
 */
export const writeSpeech = async (file: string, seconds: number): Promise<void> => {
  const samples = new Int16Array(seconds * SAMPLES_PER_SECOND);
  let state = 20_011;
  const noise = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 1_073_741_823 - 1;
  };
  let phase = 0;
  for (let at = 0; at < samples.length; at += 1) {
    const t = at / SAMPLES_PER_SECOND;
    const syllable = Math.floor(t / 0.2);
    const within = (t % 0.2) / 0.2;
    if (syllable % 9 === 8) continue;
    const [first, second] = VOWELS[syllable % VOWELS.length] ?? VOWELS[0];
    const pitch = 150 - 40 * within + 8 * Math.sin(t * 31);
    phase += (2 * Math.PI * pitch) / SAMPLES_PER_SECOND;
    let vowel = 0;
    for (let partial = 1; partial * pitch < 3500; partial += 1) {
      const hertz = partial * pitch;
      const near = (centre: number, width: number) => 1 / (1 + ((hertz - centre) / width) ** 2);
      vowel += (near(first, 90) + 0.6 * near(second, 140) + 0.02) * Math.sin(partial * phase);
    }
    const isHiss = within < 0.25;
    samples[at] = isHiss ? 2500 * noise() : 4500 * vowel * Math.sin(Math.PI * within) + 120 * noise();
  }
  await writeWav(file, samples);
};
