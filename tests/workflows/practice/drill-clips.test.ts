import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { readClip } from '@/lib/data/clips.read';
import { prisma } from '@/lib/data/client';
import { listComingClips } from '@/lib/data/drill-clips.read';
import { listDrills } from '@/lib/data/drills.read';
import { listGiven } from '@/lib/data/practice.read';
import { DERIVED_FILES } from '@/lib/domain/clips/prepared';
import { CLIP_SHOWS } from '@/lib/domain/drills/drill-clip';
import type { DrillId } from '@/lib/domain/drills/drill';
import type { ClipId, PersonId } from '@/lib/domain/shared/ids';
import { createLocalStorage } from '@/lib/platform/storage-local';
import type { Storage } from '@/lib/workflows/ports';
import { addDrillClip } from '@/lib/workflows/add-drill-clip';
import { claimUpload } from '@/lib/workflows/claim-upload';
import { finishUpload } from '@/lib/workflows/finish-upload';
import { prepareClip } from '@/lib/workflows/prepare-clip';
import { retireDrill } from '@/lib/workflows/retire-drill';
import { retryClip } from '@/lib/workflows/retry-clip';
import { saveDrill } from '@/lib/workflows/save-drill';
import { takeAwayDrillClip } from '@/lib/workflows/take-away-drill-clip';
import {
  buildClip,
  buildCoach,
  buildGuardian,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { buildAssignment, buildDrill, buildDrillClip } from '../../support/build-practice';
import { fakePorts } from '../../support/fake-ports';
import { makeClip } from '../../support/media/make-clip';
import { openMediaBench } from '../../support/media/prepared-clip';
import { viewerOf } from '../../support/viewers';

const system = asSystem('worker');
const refusal = (fault: string) => expect.objectContaining({ fault });
const video = { sizeBytes: 10, type: 'video/mp4' };

let bench: Awaited<ReturnType<typeof openMediaBench>>;
beforeAll(async () => {
  bench = await openMediaBench({ maxSeconds: 5 });
  await makeClip({ path: bench.at('drill.mp4'), width: 128, height: 72, frames: 12 });
});
afterAll(() => bench.close());

/** A program with two coaches, a player of 15 who was given a drill, and a younger one who was not. */
async function library() {
  const program = await buildProgram();
  const [coach, other] = [await buildCoach(program), await buildCoach(program)];
  const player = await buildPlayer(program, { age: 15 });
  const guardian = await buildGuardian(program, [player]);
  const stranger = await buildPlayer(program, { age: 12 });
  const lesson = await buildLesson(program, player, { state: 'returned', coachId: coach.id });
  const drill = await buildDrill(program);
  await buildAssignment(lesson, player, drill);
  const storage: Storage = createLocalStorage(bench.at(`storage-${program.id}`));
  const as = {
    coach: await viewerOf(coach, program),
    other: await viewerOf(other, program),
    player: await viewerOf(player, program),
    guardian: await viewerOf(guardian, program),
    stranger: await viewerOf(stranger, program),
  };
  const ports = { ...fakePorts(), storage };
  const add = (over: Partial<Parameters<typeof addDrillClip>[2]> = {}, viewer = as.coach) => {
    const input = { clipId: uuid() as ClipId, drillId: drill.id, shows: 'sender' as const, captureRate: 240 };
    return addDrillClip(ports, viewer, { ...input, ...over }).then(() => over.clipId ?? input.clipId);
  };
  /** Every byte is there, as the uploads tell it. */
  const send = async (clipId: ClipId, file = bench.at('drill.mp4')) => {
    await claimUpload(as.coach, clipId, video);
    const storageKey = `clips/${clipId}/original.mp4`;
    await storage.put(storageKey, { path: file });
    await finishUpload(ports, system, clipId, {
      ...{ senderId: coach.id as PersonId, storageKey, sizeBytes: 10, md5: 'a'.repeat(32) },
    });
  };
  const prepare = (clipId: ClipId) => prepareClip({ ...ports, engine: bench.engine }, system, clipId);
  return { program, coach, player, lesson, drill, storage, as, ports, add, send, prepare };
}
let at: Awaited<ReturnType<typeof library>>;
beforeEach(async () => {
  at = await library();
});

const shown = async (viewer = at.as.coach) => (await listDrills(viewer)).rows;
const seriesOf = (id: DrillId) =>
  prisma.drill
    .findUniqueOrThrow({ where: { id: String(id) } })
    .then(({ seriesId }) => prisma.drill.findMany({ where: { seriesId }, orderBy: { number: 'asc' } }));

describe('a clip for a drill', () => {
  test('becomes a new version when it is ready; who was given the drill keeps it as it was', async () => {
    const clipId = await at.add();
    expect(await listComingClips(at.as.other, [at.drill.seriesId])).toMatchObject([
      { seriesId: at.drill.seriesId, clip: { id: clipId, state: 'expected', shows: 'sender' } },
    ]);
    await at.send(clipId);
    expect(at.ports.jobs).toContain(`prepare ${clipId}`);
    expect((await shown())[0]).toMatchObject({ number: 1, clip: null });

    expect(await at.prepare(clipId)).toEqual({ state: 'ready' });
    const [drill, ...more] = await shown();
    expect(more).toEqual([]);
    expect(drill).toMatchObject({
      ...{ number: 2, title: at.drill.title, steps: at.drill.steps, standing: at.drill.standing },
      clip: { id: clipId, shows: 'sender', frameCount: 12, captureRate: 240, rateIsSure: true },
    });
    expect(drill?.drawing).toEqual(at.drill.drawing);
    expect(await listComingClips(at.as.coach, [at.drill.seriesId])).toEqual([]);
    const [given] = await listGiven(at.as.player, { lessonId: at.lesson.id });
    expect(given?.drill).toMatchObject({ id: at.drill.id, number: 1, clip: null });
    const audit = await prisma.auditEntry.findMany({
      where: { programId: at.program.id },
      orderBy: [{ at: 'asc' }, { id: 'asc' }],
    });
    expect(audit.map(({ action }) => action)).toEqual(
      expect.arrayContaining(['drill.clip-added', 'clip.stored', 'clip.ready', 'drill.clip-shown']),
    );
    expect(audit.find(({ action }) => action === 'drill.clip-added')?.data).toEqual({
      clip: clipId,
      shows: 'sender',
    });
    // The worker once more: no third version.
    expect(await at.prepare(clipId)).toEqual({ state: 'nothing-to-do' });
    expect(await seriesOf(at.drill.id)).toHaveLength(2);
  });

  test('goes on with every later version, and another takes its place in the next one', async () => {
    const first = await buildDrillClip(at.drill, at.coach);
    const { drawing: _drawing, ...text } = at.drill;
    const next = await saveDrill(at.ports, at.as.other, {
      drill: { ...text, drawing: null, title: 'Said better' },
      replaces: at.drill.id,
    });
    expect((await shown())[0]).toMatchObject({ id: next, number: 2, clip: { id: first.id } });

    const second = await at.add({ drillId: next });
    await at.send(second);
    // The first is watched until the second is ready.
    expect((await shown())[0]?.clip?.id).toBe(first.id);
    await at.prepare(second);
    expect((await shown())[0]).toMatchObject({ number: 3, title: 'Said better', clip: { id: second } });
    // Who was given the first version goes on watching the first.
    expect((await listGiven(at.as.guardian, { lessonId: at.lesson.id }))[0]?.drill.clip?.id).toBe(first.id);
  });

  test('that gets ready while a coach writes the next version stands on what was written', async () => {
    const clipId = await at.add();
    await at.send(clipId);
    const { drawing: _drawing, ...text } = at.drill;
    const write = { drill: { ...text, drawing: null, title: 'Said better' }, replaces: at.drill.id };
    const [saved] = await Promise.allSettled([saveDrill(at.ports, at.as.other, write), at.prepare(clipId)]);
    const versions = await seriesOf(at.drill.id);
    const living = versions.filter(({ retiredAt }) => retiredAt === null);
    expect(living).toHaveLength(1);
    // Whoever came second: the words are refused and told so, or the clip stands on the new words.
    if (saved.status === 'rejected') expect(saved.reason).toEqual(refusal('conflict'));
    else expect(living[0]).toMatchObject({ number: 3, title: 'Said better' });
    expect(living[0]?.clipId).toBe(clipId);
  });

  test('of a drill that was retired meanwhile goes again, with its files', async () => {
    const clipId = await at.add();
    await at.send(clipId);
    await retireDrill(at.ports, at.as.coach, at.drill.id);
    expect(await at.prepare(clipId)).toEqual({ state: 'nothing-to-do' });
    expect(await shown()).toEqual([]);
    expect(await prisma.clip.findUniqueOrThrow({ where: { id: clipId } })).toMatchObject({
      removedAt: expect.any(Date) as Date,
      storageKey: null,
    });
    expect(await prisma.fileRemoval.count({ where: { prefix: `clips/${clipId}` } })).toBe(1);
  });

  test('that cannot be prepared says why, tells no player, and can be tried again by any coach', async () => {
    const clipId = await at.add();
    await at.send(clipId);
    await prisma.clip.update({
      where: { id: clipId },
      data: { state: 'failed', failCode: 'out-of-time' },
    });
    const [coming] = await listComingClips(at.as.other, [at.drill.seriesId]);
    expect(coming?.clip).toMatchObject({ state: 'failed', fault: 'out-of-time' });
    await expect(retryClip(at.ports, at.as.player, clipId)).rejects.toEqual(refusal('not-found'));
    await retryClip(at.ports, at.as.other, clipId);
    expect(await at.prepare(clipId)).toEqual({ state: 'ready' });
  });

  test('of something that is no video is refused and nobody’s list hears of it', async () => {
    const clipId = await at.add();
    await makeClip({
      path: bench.at('long.mp4'),
      width: 64,
      height: 36,
      frames: 8,
      rate: { num: 1, den: 1 },
    });
    await at.send(clipId, bench.at('long.mp4'));
    expect(await at.prepare(clipId)).toEqual({ state: 'failed', fault: 'too-long' });
    expect(await at.storage.list(`clips/${clipId}`)).toEqual([]);
    expect(await prisma.notice.count({ where: { programId: at.program.id } })).toBe(0);
    expect((await shown())[0]?.clip).toBeNull();
  });
});

describe('refused', () => {
  test('for players, guardians and other programs, as if the drill were not there', async () => {
    const far = await buildProgram();
    const strangers = [at.as.player, at.as.guardian, await viewerOf(await buildCoach(far), far)];
    for (const viewer of strangers) await expect(at.add({}, viewer)).rejects.toEqual(refusal('not-found'));
    expect(await prisma.clip.count({ where: { drillId: String(at.drill.id) } })).toBe(0);
  });

  test('while another is on its way; the same one again is no other', async () => {
    const clipId = await at.add();
    await at.add({ clipId });
    expect(await prisma.clip.count({ where: { drillId: String(at.drill.id) } })).toBe(1);
    await expect(at.add({}, at.as.other)).rejects.toEqual(refusal('wrong-state'));
    // Nor under an id that is somebody else's, or was taken away.
    await expect(at.add({ clipId }, at.as.other)).rejects.toEqual(refusal('not-found'));
    await takeAwayDrillClip(at.ports, at.as.coach, clipId);
    await expect(at.add({ clipId })).rejects.toEqual(refusal('not-found'));
    await at.add({}, at.as.other);
  });

  test('two at once: one is announced', async () => {
    const both = await Promise.allSettled([at.add(), at.add({}, at.as.other)]);
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
  });

  test('for a version that is offered no more', async () => {
    await retireDrill(at.ports, at.as.coach, at.drill.id);
    await expect(at.add()).rejects.toEqual(refusal('wrong-state'));
  });

  test('bytes from anybody but who announced it, and those of a clip of which a lesson knows nothing', async () => {
    const clipId = await at.add();
    await expect(claimUpload(at.as.other, clipId, video)).rejects.toEqual(refusal('not-found'));
    await expect(claimUpload(at.as.player, clipId, video)).rejects.toEqual(refusal('not-found'));
    expect(await claimUpload(at.as.coach, clipId, video)).toEqual({ isStored: false });
  });

  test('bytes of somebody who is on the staff no more', async () => {
    const clipId = await at.add();
    await prisma.membership.updateMany({ where: { personId: at.coach.id }, data: { role: 'guardian' } });
    const former = await viewerOf(at.coach, at.program);
    await expect(claimUpload(former, clipId, video)).rejects.toEqual(refusal('not-found'));
  });

  test('by the database: a clip of a lesson and a drill, of neither, or that does not say who is in it', async () => {
    const base = { position: 0, uploadedById: at.coach.id };
    const drillId = String(at.drill.id);
    const wrong = [
      { lessonId: at.lesson.id, drillId, shows: 'adult' as const },
      { lessonId: null },
      { drillId },
      { lessonId: at.lesson.id, shows: 'sender' as const },
    ];
    for (const facts of wrong)
      await expect(prisma.clip.create({ data: { id: uuid(), ...base, ...facts } })).rejects.toThrow(/Clip_/);
  });
});

describe('watching it', () => {
  test('is for staff, and for players and guardians who were given that version', async () => {
    const { id } = await buildDrillClip(at.drill, at.coach);
    for (const viewer of [at.as.coach, at.as.other, at.as.player, at.as.guardian])
      expect(await readClip(viewer, id)).toMatchObject({ id, lessonId: null });
    expect(await readClip(at.as.stranger, id)).toBeNull();
    const far = await buildProgram();
    expect(await readClip(await viewerOf(await buildCoach(far), far), id)).toBeNull();
  });

  test('is not for players while it is on its way', async () => {
    const { id } = await buildDrillClip(at.drill, at.coach, { state: 'preparing' });
    await prisma.drill.update({ where: { id: String(at.drill.id) }, data: { clipId: id } });
    expect(await readClip(at.as.player, id)).toBeNull();
    expect(await readClip(at.as.coach, id)).not.toBeNull();
    expect((await listGiven(at.as.player, { lessonId: at.lesson.id }))[0]?.drill.clip).toBeNull();
  });

  test('ends at once for everybody when it is taken away, by any coach, twice without harm', async () => {
    const { id } = await buildDrillClip(at.drill, at.coach);
    for (const file of ['original.mp4', ...DERIVED_FILES])
      await at.storage.put(`clips/${id}/${file}`, { bytes: new Uint8Array([1]) });
    for (const viewer of [at.as.player, at.as.guardian])
      await expect(takeAwayDrillClip(at.ports, viewer, id)).rejects.toEqual(refusal('not-found'));
    await takeAwayDrillClip(at.ports, at.as.other, id);
    await takeAwayDrillClip(at.ports, at.as.other, id);
    for (const viewer of [at.as.coach, at.as.player]) expect(await readClip(viewer, id)).toBeNull();
    expect((await shown())[0]?.clip).toBeNull();
    expect((await listGiven(at.as.player, { lessonId: at.lesson.id }))[0]?.drill.clip).toBeNull();
    expect(await at.storage.list(`clips/${id}`)).toEqual([]);
  });

  test('of a clip of a lesson is not ended that way', async () => {
    const clip = await buildClip(at.lesson);
    await expect(takeAwayDrillClip(at.ports, at.as.coach, clip.id)).rejects.toEqual(refusal('not-found'));
    expect(await readClip(at.as.player, clip.id)).not.toBeNull();
  });

  test('stays refused to players when the storage is away as it is taken', async () => {
    const { id } = await buildDrillClip(at.drill, at.coach);
    const storage = { ...at.storage, remove: () => Promise.reject(new Error('away')) };
    await takeAwayDrillClip({ ...at.ports, storage }, at.as.coach, id);
    expect(await readClip(at.as.player, id)).toBeNull();
    // The night takes what is left.
    expect(await prisma.fileRemoval.count({ where: { prefix: `clips/${id}` } })).toBe(1);
  });
});

test('there is no word for a child in the clip of a drill', () => {
  expect(CLIP_SHOWS).toEqual(['nobody', 'sender', 'adult']);
});
