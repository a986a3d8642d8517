import path from 'node:path';
import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { listBreakdowns, readBreakdown } from '@/lib/data/breakdowns.read';
import { listUnassembled } from '@/lib/data/breakdowns.system';
import { prisma } from '@/lib/data/client';
import { parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import { CagepostError } from '@/lib/domain/shared/errors';
import { createMediaEngine } from '@/lib/platform/media/engine';
import { openVoice } from '@/lib/platform/media/voice-take';
import { assembleBreakdown } from '@/lib/workflows/assemble-breakdown';
import { bytesOf } from '@/lib/workflows/bytes-of';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { makeSound } from '@/lib/workflows/make-sound';
import type { Storage } from '@/lib/workflows/ports';
import { removeBreakdown } from '@/lib/workflows/remove-breakdown';
import { reopenBreakdown } from '@/lib/workflows/reopen-breakdown';
import { retryBreakdown } from '@/lib/workflows/retry-breakdown';
import { startBreakdown } from '@/lib/workflows/start-breakdown';
import { pitchAt, pitchOf } from '../../support/media/make-voice';
import { openStudio, system } from './studio';

let studio: Awaited<ReturnType<typeof openStudio>>;
beforeAll(async () => {
  studio = await openStudio();
});
afterAll(() => studio.close());

const namesIn = async (storage: Storage, id: string) =>
  (await storage.list(`breakdowns/${id}`))
    .map((key) => path.basename(key))
    .filter((name) => name.includes('.'));
const timelineIn = async (storage: Storage, id: string, take: number) =>
  parseTimeline(
    JSON.parse(Buffer.from((await bytesOf(storage, `breakdowns/${id}/timeline-${take}.json`))!).toString()),
  );
const voiceIn = async (storage: Storage, key: string) => {
  const local = await storage.local(key);
  const voice = openVoice(local.path, key.endsWith('.webm') ? 'audio/webm' : 'audio/mp4')!;
  const samples = voice.samples();
  voice.close();
  return samples;
};

describe.each(['audio/webm', 'audio/mp4'] as const)('a breakdown recorded as %s', (type) => {
  test('becomes a voice and a timeline of one length', async () => {
    const at = await studio.lesson();
    const { breakdownId: id, result } = await studio.ready(at, { type, seconds: 5, count: 3 });
    expect(result).toEqual({ state: 'ready' });
    const ending = type === 'audio/webm' ? 'webm' : 'm4a';
    expect(await namesIn(at.storage, id)).toEqual(['timeline-1.json', `voice-1.${ending}`]);
    const timeline = await timelineIn(at.storage, id, 1);
    expect(timeline).toMatchObject({ durationMs: 5000, hasVoice: true });
    expect(sceneAt(indexTimeline(timeline), 3500).frame).toBe(3);
    const samples = await voiceIn(at.storage, `breakdowns/${id}/voice-1.${ending}`);
    expect(Math.abs(samples.length / 48 - 5000)).toBeLessThan(45);
    expect(Math.abs(pitchOf(samples, 3100, 3900) - pitchAt(3))).toBeLessThan(20);
    expect(await studio.rowOf(id)).toMatchObject({
      state: 'ready',
      durationMs: 5000,
      voiceType: type,
      failCode: null,
    });
    expect(await readBreakdown(at.asCoach, id)).toMatchObject({
      state: 'ready',
      fault: null,
      voiceFile: `voice-1.${ending}`,
      timelineFile: 'timeline-1.json',
      mayChange: true,
      mayExport: true,
    });
    // Not given yet: the player's side hears nothing of it.
    expect(await listBreakdowns(at.asPlayer, at.lesson.id)).toEqual([]);
    expect(await readBreakdown(at.asGuardian, id)).toBeNull();
  });
});

test('every step may come twice', async () => {
  const at = await studio.lesson({ state: 'submitted' });
  const id = uuid() as BreakdownId;
  const start = () =>
    startBreakdown(studio.ports, at.asCoach, { breakdownId: id, lessonId: at.lesson.id, hasVoice: true });
  await start();
  await start();
  expect((await prisma.lesson.findUniqueOrThrow({ where: { id: at.lesson.id } })).state).toBe('in_review');
  const take = await studio.take(at.clip.id);
  expect(await studio.send(at.asCoach, at.storage, id, take, 0)).toBe(false);
  expect(await studio.send(at.asCoach, at.storage, id, take, 0)).toBe(true);
  const recipe = studio.recipe(at.clip.id, [{ segmentId: take.segmentId, fromMs: 0, toMs: 4000 }]);
  const input = { breakdownId: id, recipe, parts: [{ segmentId: take.segmentId, count: 2 }] };
  expect(await keepBreakdown(studio.ports, at.asCoach, input)).toEqual({
    kind: 'missing',
    missing: [{ segmentId: take.segmentId, numbers: [1] }],
  });
  await studio.send(at.asCoach, at.storage, id, take, 1);
  const jobsBefore = studio.ports.jobs.length;
  expect(await keepBreakdown(studio.ports, at.asCoach, input)).toEqual({ kind: 'assembling' });
  expect(await keepBreakdown(studio.ports, at.asCoach, input)).toEqual({ kind: 'assembling' });
  expect(studio.ports.jobs.slice(jobsBefore)).toEqual([`assemble ${id}`]);
  const ports = studio.assemblePorts(at.storage);
  expect(await assembleBreakdown(ports, system, id)).toEqual({ state: 'ready' });
  expect(await assembleBreakdown(ports, system, id)).toEqual({ state: 'nothing-to-do' });
  // A part that comes once more after it stands is there already.
  expect(await studio.send(at.asCoach, at.storage, id, take, 0)).toBe(true);
});

test('cut again: pieces of two takes, and nothing that stood goes before the new one stands', async () => {
  const at = await studio.lesson();
  const { breakdownId: id, take, parts } = await studio.ready(at);
  await reopenBreakdown(at.asCoach, id);
  const second = await studio.take(at.clip.id, { seconds: 3 });
  for (const number of [0, 1]) await studio.send(at.asCoach, at.storage, id, second, number);
  const recipe = studio.recipe(at.clip.id, [
    { segmentId: take.segmentId, fromMs: 0, toMs: 1500 },
    { segmentId: second.segmentId, fromMs: 2000, toMs: 3000 },
  ]);
  const all = [...parts, { segmentId: second.segmentId, count: 2 }];
  await keepBreakdown(studio.ports, at.asCoach, { breakdownId: id, recipe, parts: all });
  const seen: string[][] = [];
  const storage: Storage = {
    ...at.storage,
    put: async (key, from) => {
      await at.storage.put(key, from);
      seen.push(await namesIn(at.storage, id));
    },
  };
  expect(await assembleBreakdown(studio.assemblePorts(storage), system, id)).toEqual({ state: 'ready' });
  for (const names of seen) expect(names).toContain('voice-1.webm');
  expect(await namesIn(at.storage, id)).toEqual(['timeline-2.json', 'voice-2.webm']);
  const timeline = await timelineIn(at.storage, id, 2);
  expect(timeline.durationMs).toBe(2500);
  expect(sceneAt(indexTimeline(timeline), 1600).frame).toBe(2);
  const samples = await voiceIn(at.storage, `breakdowns/${id}/voice-2.webm`);
  expect(Math.abs(pitchOf(samples, 1100, 1400) - pitchAt(1))).toBeLessThan(25);
  expect(Math.abs(pitchOf(samples, 1650, 2400) - pitchAt(2))).toBeLessThan(25);
  expect((await at.storage.list(`breakdowns/${id}/parts`)).length).toBe(4);
});

test('a voice that was cut off is kept as far as it goes, and says so', async () => {
  const at = await studio.lesson();
  const { breakdownId: id, result } = await studio.ready(at, {
    seconds: 6,
    spoil: (voice) => voice.subarray(0, Math.round(voice.length / 2)),
  });
  expect(result).toEqual({ state: 'ready' });
  expect(await readBreakdown(at.asCoach, id)).toMatchObject({
    state: 'ready',
    fault: 'voice-cut',
    durationMs: 6000,
  });
});

test('a voice of junk fails with its reason; all parts are kept', async () => {
  const at = await studio.lesson();
  const { breakdownId: id, result } = await studio.ready(at, {
    spoil: (voice) => Buffer.alloc(voice.length, 7),
  });
  expect(result).toEqual({ state: 'failed', fault: 'voice-unreadable' });
  expect(await namesIn(at.storage, id)).toEqual([]);
  expect((await at.storage.list(`breakdowns/${id}/parts`)).length).toBe(2);
});

test('killed in the middle of assembling: the next worker finds it and ends with the same files', async () => {
  const at = await studio.lesson();
  const id = (await studio.ready(at, { spoil: (voice) => voice.subarray(0, 0) })).breakdownId;
  await prisma.breakdown.update({ where: { id }, data: { state: 'recording' } });
  const take = await studio.take(at.clip.id, { seconds: 4 });
  for (const number of [0, 1]) await studio.send(at.asCoach, at.storage, id, take, number);
  const recipe = studio.recipe(at.clip.id, [{ segmentId: take.segmentId, fromMs: 0, toMs: 4000 }]);
  const parts = [{ segmentId: take.segmentId, count: 2 }];
  await keepBreakdown(studio.ports, at.asCoach, { breakdownId: id, recipe, parts });

  const engine = createMediaEngine({ scratch: studio.bench.at('killed'), maxBytes: 1e9, maxSeconds: 60 });
  const dying: Storage = {
    ...at.storage,
    // The process ends when the timeline is written and the voice is not.
    put: async (key, from) => {
      if (key.includes('voice-')) {
        await engine.close();
        throw new Error('killed');
      }
      await at.storage.put(key, from);
    },
  };
  await expect(assembleBreakdown(studio.assemblePorts(dying, { engine }), system, id)).rejects.toMatchObject({
    fault: 'unavailable',
  });
  expect(await listUnassembled(system)).toContain(id);
  expect(await assembleBreakdown(studio.assemblePorts(at.storage), system, id)).toEqual({ state: 'ready' });
  expect(await namesIn(at.storage, id)).toEqual(['timeline-2.json', 'voice-2.webm']);
});

test('a full disk: told, nothing half-kept, and it goes on by itself when there is room', async () => {
  const at = await studio.lesson();
  const full: Storage = {
    ...at.storage,
    put: async (key, from) => {
      if (key.includes('voice-')) throw new CagepostError('storage-full', 'There is no room left.');
      await at.storage.put(key, from);
    },
  };
  const { breakdownId: id } = await studio.ready(at);
  await reopenBreakdown(at.asCoach, id);
  const recipe = (await studio.rowOf(id)).recipe as unknown as Parameters<typeof keepBreakdown>[2]['recipe'];
  const shorter = { ...recipe, pieces: recipe.pieces.map((piece) => ({ ...piece, toMs: 2000 })) };
  const parts = [{ segmentId: recipe.pieces[0]!.segmentId, count: 2 }];
  await keepBreakdown(studio.ports, at.asCoach, { breakdownId: id, recipe: shorter, parts });
  await expect(assembleBreakdown(studio.assemblePorts(full), system, id)).rejects.toMatchObject({
    fault: 'unavailable',
  });
  expect(await readBreakdown(at.asCoach, id)).toMatchObject({ state: 'failed', fault: 'disk-full' });
  // What stood before still stands.
  expect(await namesIn(at.storage, id)).toEqual(['timeline-1.json', 'voice-1.webm']);
  expect(await assembleBreakdown(studio.assemblePorts(at.storage), system, id)).toEqual({ state: 'ready' });
  expect(await namesIn(at.storage, id)).toEqual(['timeline-2.json', 'voice-2.webm']);
});

test('a clip that was replaced under it fails with its reason; another try is possible when it is back', async () => {
  const at = await studio.lesson();
  const { breakdownId: id, recipe, parts } = await studio.ready(at);
  await reopenBreakdown(at.asCoach, id);
  const shorter = { ...recipe, pieces: recipe.pieces.map((piece) => ({ ...piece, toMs: 2000 })) };
  await keepBreakdown(studio.ports, at.asCoach, { breakdownId: id, recipe: shorter, parts });
  await prisma.clip.update({ where: { id: at.clip.id }, data: { frameCount: 99 } });
  const ports = studio.assemblePorts(at.storage);
  expect(await assembleBreakdown(ports, system, id)).toEqual({ state: 'failed', fault: 'clip-changed' });
  await expect(
    keepBreakdown(studio.ports, at.asCoach, { breakdownId: id, recipe, parts }),
  ).rejects.toMatchObject({
    fault: 'invalid',
    forPeople: expect.stringContaining('clip was replaced') as string,
  });
  await prisma.clip.update({ where: { id: at.clip.id }, data: { frameCount: 120 } });
  await retryBreakdown(studio.ports, at.asCoach, id);
  expect(await assembleBreakdown(ports, system, id)).toEqual({ state: 'ready' });
});

test('a part that is gone from storage is told', async () => {
  const at = await studio.lesson();
  const { breakdownId: id, take, recipe, parts } = await studio.ready(at);
  await reopenBreakdown(at.asCoach, id);
  await at.storage.remove(`breakdowns/${id}/parts/${take.segmentId}-1`);
  const shorter = { ...recipe, pieces: recipe.pieces.map((piece) => ({ ...piece, toMs: 2000 })) };
  await keepBreakdown(studio.ports, at.asCoach, { breakdownId: id, recipe: shorter, parts });
  expect(await assembleBreakdown(studio.assemblePorts(at.storage), system, id)).toEqual({
    state: 'failed',
    fault: 'parts-missing',
  });
});

test('removed: not one file is left, the record stays, and a late worker leaves nothing either', async () => {
  const at = await studio.lesson();
  const { breakdownId: id } = await studio.ready(at);
  await makeSound({ storage: at.storage, log: studio.ports.log, engine: studio.bench.engine }, system, id);
  expect(await namesIn(at.storage, id)).toContain('sound-1.m4a');
  await removeBreakdown({ clock: studio.ports.clock, storage: at.storage }, at.asCoach, id);
  expect(await at.storage.list(`breakdowns/${id}`)).toEqual([]);
  expect(await readBreakdown(at.asCoach, id)).toMatchObject({
    state: 'removed',
    voiceFile: null,
    timelineFile: null,
    mayExport: false,
    title: 'Front foot',
  });
  await at.storage.put(`breakdowns/${id}/voice-9.webm`, { bytes: Buffer.from('late') });
  await assembleBreakdown(studio.assemblePorts(at.storage), system, id);
  expect(await at.storage.list(`breakdowns/${id}`)).toEqual([]);
});

test('without a voice it is a silent breakdown', async () => {
  const at = await studio.lesson();
  const { breakdownId: id, result } = await studio.ready(at, { spoil: (voice) => voice.subarray(0, 0) });
  expect(result).toEqual({ state: 'ready' });
  expect(await readBreakdown(at.asCoach, id)).toMatchObject({
    hasVoice: false,
    voiceFile: null,
    fault: null,
  });
  expect((await timelineIn(at.storage, id, 1)).hasVoice).toBe(false);
});
