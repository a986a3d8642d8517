import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { readClip } from '@/lib/data/clips.read';
import { prisma } from '@/lib/data/client';
import { listDrills } from '@/lib/data/drills.read';
import { listGiven } from '@/lib/data/practice.read';
import { DERIVED_FILES } from '@/lib/domain/clips/prepared';
import { CLIP_SHOWS } from '@/lib/domain/drills/drill-clip';
import { claimUpload } from '@/lib/workflows/claim-upload';
import type { ClipId } from '@/lib/domain/shared/ids';
import { retireDrill } from '@/lib/workflows/retire-drill';
import { retryClip } from '@/lib/workflows/retry-clip';
import { takeAwayDrillClip } from '@/lib/workflows/take-away-drill-clip';
import { buildClip, buildCoach, buildProgram } from '../../support/build';
import { buildDrillClip } from '../../support/build-practice';
import { openMediaBench } from '../../support/media/prepared-clip';
import { viewerOf } from '../../support/viewers';
import { openLibrary, refusal, VIDEO } from './library';

let bench: Awaited<ReturnType<typeof openMediaBench>>;
let at: Awaited<ReturnType<typeof openLibrary>>;
beforeAll(async () => {
  bench = await openMediaBench({ maxSeconds: 5 });
});
beforeEach(async () => {
  at = await openLibrary(bench);
});
afterAll(() => bench.close());

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
    await expect(claimUpload(at.as.other, clipId, VIDEO)).rejects.toEqual(refusal('not-found'));
    await expect(claimUpload(at.as.player, clipId, VIDEO)).rejects.toEqual(refusal('not-found'));
    expect(await claimUpload(at.as.coach, clipId, VIDEO)).toEqual({ isStored: false });
  });

  test('bytes of somebody who is on the staff no more', async () => {
    const clipId = await at.add();
    await prisma.membership.updateMany({ where: { personId: at.coach.id }, data: { role: 'guardian' } });
    const former = await viewerOf(at.coach, at.program);
    await expect(claimUpload(former, clipId, VIDEO)).rejects.toEqual(refusal('not-found'));
    // Nor by having become the guardian of a player who watches it.
    await buildDrillClip(at.drill, at.coach, { id: uuid(), sizeBytes: 10n });
    const { id } = await prisma.clip.findFirstOrThrow({
      where: { drillId: String(at.drill.id), state: 'ready' },
    });
    await prisma.guardianship.create({
      data: { guardianId: at.coach.id, playerId: at.player.id, verifiedAt: new Date() },
    });
    const guardian = await viewerOf(at.coach, at.program);
    expect(await readClip(guardian, id as ClipId)).not.toBeNull();
    await expect(claimUpload(guardian, id as ClipId, VIDEO)).rejects.toEqual(refusal('not-found'));
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

  test('gives nobody but staff another try at it', async () => {
    const { id } = await buildDrillClip(at.drill, at.coach);
    expect(await readClip(at.as.player, id)).not.toBeNull();
    await expect(retryClip(at.ports, at.as.player, id)).rejects.toEqual(refusal('not-found'));
    await expect(retryClip(at.ports, at.as.other, id)).rejects.toEqual(refusal('wrong-state'));
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
    expect((await listDrills(at.as.coach)).rows[0]?.clip).toBeNull();
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
