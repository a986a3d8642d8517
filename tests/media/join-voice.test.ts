import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { ALL_FORMATS, BufferSource, EncodedPacketSink, Input } from 'mediabunny';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createMediaEngine, type MediaEngine } from '@/lib/platform/media/engine';
import { openVoice } from '@/lib/platform/media/voice-take';
import { makeVoice, pitchAt, pitchOf } from '../support/media/make-voice';

let folder: string;
let engine: MediaEngine;
let made: Record<'audio/webm' | 'audio/mp4', string>;
beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'voice-'));
  engine = createMediaEngine({
    scratch: folder,
    maxBytes: 1e9,
    maxSeconds: 600,
    children: 1,
    filesPerChild: 50,
  });
  made = { 'audio/webm': path.join(folder, 'take-a'), 'audio/mp4': path.join(folder, 'take-b') };
  await makeVoice(made['audio/webm'], 'audio/webm', 6);
  await makeVoice(made['audio/mp4'], 'audio/mp4', 6);
});
afterAll(async () => {
  await engine.close();
  await rm(folder, { recursive: true, force: true });
});

type Type = 'audio/webm' | 'audio/mp4';
let jobs = 0;
const joined = async (
  takes: { file: string; type: Type }[],
  pieces: { take: number | null; fromMs: number; toMs: number }[],
) => {
  const into = path.join(folder, `job-${++jobs}`);
  const outcome = await engine.joinVoice({ folder: into, takes, pieces });
  if (!outcome.ok) throw new Error(outcome.detail);
  const file = path.join(into, outcome.facts.file);
  const voice = openVoice(file, outcome.facts.type)!;
  const samples = voice.samples();
  voice.close();
  return { facts: outcome.facts, file, samples };
};
/** What another library (mediabunny) says of the file. */
const secondReading = async (file: string) => {
  const input = new Input({ source: new BufferSource(await readFile(file)), formats: ALL_FORMATS });
  const track = (await input.getPrimaryAudioTrack())!;
  const sink = new EncodedPacketSink(track);
  const far = await sink.getPacket(3.5);
  return { durationMs: (await input.computeDuration()) * 1000, codec: track.codec, farAt: far?.timestamp };
};

describe.each(['audio/webm', 'audio/mp4'] as const)('a recorder’s %s', (type) => {
  test('becomes a voice with a length, that can be sought', async () => {
    const take = { file: made[type], type };
    const { facts, file } = await joined([take], [{ take: 0, fromMs: 0, toMs: 6000 }]);
    expect(facts.type).toBe(type);
    expect(facts.takes[0]!.durationMs).toBeGreaterThanOrEqual(6000);
    expect(facts.takes[0]!.durationMs).toBeLessThan(6060);
    const told = await secondReading(file);
    expect(Math.abs(told.durationMs - 6000)).toBeLessThan(60);
    expect(told.codec).toBe(type === 'audio/webm' ? 'opus' : 'aac');
    expect(Math.abs(told.farAt! - 3.5)).toBeLessThan(0.1);
    // The browser's own index: Cues in WebM (RFC 9559, 5.1.5), a whole moov in front in MP4.
    const bytes = await readFile(file);
    expect(bytes.includes(Buffer.from(type === 'audio/webm' ? '1c53bb6b' : '6d6f6f76', 'hex'))).toBe(true);
  });

  test('is cut and put together at the milliseconds that the recipe says', async () => {
    const { samples } = await joined(
      [{ file: made[type], type }],
      [
        { take: 0, fromMs: 4000, toMs: 5000 },
        { take: null, fromMs: 0, toMs: 500 },
        { take: 0, fromMs: 1000, toMs: 2000 },
      ],
    );
    expect(Math.abs(samples.length / 48 - 2500)).toBeLessThan(45);
    expect(pitchOf(samples, 100, 900)).toBeCloseTo(pitchAt(4), -1.3);
    expect(pitchOf(samples, 1080, 1420)).toBe(0);
    expect(pitchOf(samples, 1600, 2400)).toBeCloseTo(pitchAt(1), -1.3);
  });

  test('that was cut off keeps what comes before the cut, and silence after it', async () => {
    const bytes = await readFile(made[type]);
    const cut = path.join(folder, `cut-${jobs}`);
    await writeFile(cut, bytes.subarray(0, Math.round(bytes.length * 0.6)));
    const { facts, samples } = await joined([{ file: cut, type }], [{ take: 0, fromMs: 0, toMs: 6000 }]);
    expect(facts.takes[0]!.durationMs).toBeGreaterThan(2500);
    expect(facts.takes[0]!.durationMs).toBeLessThan(4200);
    expect(pitchOf(samples, 1100, 1900)).toBeCloseTo(pitchAt(1), -1.3);
    expect(pitchOf(samples, 4500, 5500)).toBe(0);
    expect(Math.abs(samples.length / 48 - 6000)).toBeLessThan(45);
  });
});

test('takes of two kinds become one voice', async () => {
  const { facts, samples } = await joined(
    [
      { file: made['audio/webm'], type: 'audio/webm' },
      { file: made['audio/mp4'], type: 'audio/mp4' },
    ],
    [
      { take: 0, fromMs: 2000, toMs: 3000 },
      { take: 1, fromMs: 5000, toMs: 6000 },
    ],
  );
  expect(facts.type).toBe('audio/webm');
  expect(pitchOf(samples, 100, 900)).toBeCloseTo(pitchAt(2), -1.3);
  expect(pitchOf(samples, 1100, 1900)).toBeCloseTo(pitchAt(5), -1.3);
});

test('bytes that are no voice are told, and one unreadable take does not spoil the others', async () => {
  const junk = path.join(folder, 'junk');
  await writeFile(junk, Buffer.alloc(40_000, 7));
  const outcome = await engine.joinVoice({
    folder: path.join(folder, 'job-junk'),
    takes: [{ file: junk, type: 'audio/webm' }],
    pieces: [{ take: 0, fromMs: 0, toMs: 1000 }],
  });
  expect(outcome).toMatchObject({ ok: false, fault: 'unreadable' });
  const { facts, samples } = await joined(
    [
      { file: junk, type: 'audio/webm' },
      { file: made['audio/webm'], type: 'audio/webm' },
    ],
    [
      { take: 0, fromMs: 0, toMs: 1000 },
      { take: 1, fromMs: 0, toMs: 1000 },
    ],
  );
  expect(facts.takes[0]).toBeNull();
  expect(pitchOf(samples, 100, 900)).toBe(0);
  expect(pitchOf(samples, 1100, 1900)).toBeCloseTo(pitchAt(0), -1.3);
});

test('the same voice as AAC, for files that are made of it', async () => {
  const into = path.join(folder, 'job-sound');
  const outcome = await engine.encodeSound({
    ...{ folder: into, voice: made['audio/webm'], type: 'audio/webm' },
    durationMs: 6000,
  });
  expect(outcome.ok).toBe(true);
  const told = await secondReading(path.join(into, 'sound.m4a'));
  expect(told.codec).toBe('aac');
  expect(Math.abs(told.durationMs - 6000)).toBeLessThan(50);
});
