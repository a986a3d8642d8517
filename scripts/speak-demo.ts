// Speaks the demo's breakdown once, for the files under prisma/demo/voice that are shipped: `npx tsx
// scripts/speak-demo.ts` with espeak-ng (https://github.com/espeak-ng/espeak-ng) on the path. Nothing else needs it.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { VOICE_RATE } from '../lib/platform/media/voice-take';
import { encodeVoice } from '../lib/platform/media/voice-writer';
import { SPOKEN } from '../prisma/demo/spoken';

const PAUSE_MS = 600;
const LEAD_MS = 400;
const RUN_MS = 4600;
const folder = path.resolve(import.meta.dirname, '../prisma/demo/voice');

/** The samples of a WAV file (RIFF, 16-bit mono), between -1 and 1, at our rate. */
function samplesOf(wav: Buffer): Float32Array {
  const rate = wav.readUInt32LE(24);
  const data = wav.indexOf('data') + 8;
  const count = Math.floor((wav.length - data) / 2);
  const at = (n: number) => wav.readInt16LE(data + 2 * Math.min(n, count - 1)) / 32768;
  return Float32Array.from({ length: Math.floor((count * VOICE_RATE) / rate) }, (_, n) => {
    const place = (n * rate) / VOICE_RATE;
    const before = Math.floor(place);
    return at(before) + (at(before + 1) - at(before)) * (place - before);
  });
}

const scratch = mkdtempSync(path.join(os.tmpdir(), 'speak-'));
const parts: Float32Array[] = [];
const lines: { fromMs: number; toMs: number }[] = [];
let ms = LEAD_MS;
parts.push(new Float32Array((LEAD_MS * VOICE_RATE) / 1000));
for (const { say, plays } of SPOKEN) {
  const wav = path.join(scratch, 'line.wav');
  execFileSync('espeak-ng', ['-v', 'en-us+m3', '-s', '150', '-w', wav, say]);
  const samples = samplesOf(readFileSync(wav));
  const pauseMs = plays ? RUN_MS : PAUSE_MS;
  const spokenMs = Math.ceil((samples.length * 1000) / VOICE_RATE);
  const all = new Float32Array(Math.round(((spokenMs + pauseMs) * VOICE_RATE) / 1000));
  all.set(samples);
  parts.push(all);
  lines.push({ fromMs: ms, toMs: ms + spokenMs });
  ms += spokenMs + pauseMs;
}
const whole = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
let at = 0;
for (const part of parts) {
  whole.set(part, at);
  at += part.length;
}
encodeVoice(path.join(folder, 'caleb-2.webm'), whole, 'opus');
writeFileSync(path.join(folder, 'caleb-2.json'), `${JSON.stringify({ durationMs: ms, lines }, null, 2)}\n`);
rmSync(scratch, { recursive: true });
