import { ALL_FORMATS, FilePathSource, Input } from 'mediabunny';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { prisma } from '@/lib/data/client';
import { listComingClips } from '@/lib/data/drill-clips.read';
import { listDrills } from '@/lib/data/drills.read';
import { replaceDrill } from '@/lib/data/drills.write';
import { listGiven } from '@/lib/data/practice.read';
import { transaction } from '@/lib/data/transaction';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import type { DrillId } from '@/lib/domain/drills/drill';
import type { Storage } from '@/lib/workflows/ports';
import { retireDrill } from '@/lib/workflows/retire-drill';
import { retryClip } from '@/lib/workflows/retry-clip';
import { saveDrill } from '@/lib/workflows/save-drill';
import { buildClip } from '../../support/build';
import { buildDrillClip } from '../../support/build-practice';
import { makeClip } from '../../support/media/make-clip';
import { openMediaBench } from '../../support/media/prepared-clip';
import { openLibrary, refusal } from './library';

let bench: Awaited<ReturnType<typeof openMediaBench>>;
let at: Awaited<ReturnType<typeof openLibrary>>;
beforeAll(async () => {
  bench = await openMediaBench({ maxSeconds: 5 });
  await makeClip({ path: bench.at('drill.mp4'), width: 128, height: 72, frames: 12, sound: 440 });
  await makeClip({ path: bench.at('long.mp4'), width: 64, height: 36, frames: 8, rate: { num: 1, den: 1 } });
});
beforeEach(async () => {
  at = await openLibrary(bench);
});
afterAll(() => bench.close());

const shown = async () => (await listDrills(at.as.coach)).rows;
const isWaiting = async () => {
  const [row] = await prisma.$queryRaw<{ n: bigint }[]>`
    SELECT count(*) AS n FROM pg_stat_activity
    WHERE datname = current_database() AND wait_event_type = 'Lock' AND query LIKE '%"Drill"%'`;
  return Number(row?.n) > 0;
};
const seriesOf = (id: DrillId) =>
  prisma.drill
    .findUniqueOrThrow({ where: { id: String(id) } })
    .then(({ seriesId }) => prisma.drill.findMany({ where: { seriesId }, orderBy: { number: 'asc' } }));

/** The tracks of a rendition, read by another library than wrote it (mediabunny). */
async function tracksOf(storage: Storage, clipId: string): Promise<string[]> {
  const file = await storage.local(`clips/${clipId}/review.mp4`);
  const input = new Input({ source: new FilePathSource(file.path), formats: ALL_FORMATS });
  try {
    return (await input.getTracks()).map(({ type }) => type).sort();
  } finally {
    input.dispose();
    await file.release();
  }
}

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

  test('that gets ready while a coach keeps the next version waits for it, and stands on what was written', async () => {
    const clipId = await at.add();
    await at.send(clipId);
    let commit = () => {};
    const mayCommit = new Promise<void>((resolve) => (commit = resolve));
    let isWritten = false;
    const coach = transaction(at.as.other, async (tx) => {
      const words = { ...DEFAULT_DRILLS[1]!, title: 'Said better' };
      await replaceDrill(at.as.other, tx, at.drill.id, words, new Date());
      isWritten = true;
      await mayCommit;
    });
    await vi.waitUntil(() => isWritten, { timeout: 10_000 });
    const prepared = at.prepare(clipId);
    await vi.waitUntil(isWaiting, { timeout: 20_000 });
    commit();
    await coach;
    expect(await prepared).toEqual({ state: 'ready' });
    const [drill, ...more] = await shown();
    expect(more).toEqual([]);
    expect(drill).toMatchObject({ number: 3, title: 'Said better', clip: { id: clipId } });
  });

  test('that gets ready first leaves the coach their words, and says that the version was replaced', async () => {
    const clipId = await at.add();
    await at.send(clipId);
    await at.prepare(clipId);
    const { drawing: _drawing, ...text } = at.drill;
    const write = { drill: { ...text, drawing: null }, replaces: at.drill.id };
    await expect(saveDrill(at.ports, at.as.other, write)).rejects.toEqual(refusal('conflict'));
    expect((await shown())[0]).toMatchObject({ number: 2, clip: { id: clipId } });
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

  test('keeps no sound in what is watched, and the clip of a lesson does', async () => {
    const clipId = await at.add();
    await at.send(clipId);
    await at.prepare(clipId);
    const lessons = await buildClip(at.lesson, { state: 'uploaded' });
    const storageKey = `clips/${lessons.id}/original.mp4`;
    await at.storage.put(storageKey, { path: bench.at('drill.mp4') });
    await prisma.clip.update({ where: { id: lessons.id }, data: { storageKey } });
    await at.prepare(lessons.id);
    expect(await tracksOf(at.storage, lessons.id)).toEqual(['audio', 'video']);
    expect(await tracksOf(at.storage, clipId)).toEqual(['video']);
  });

  test('that is too long is refused, and the coach who sent it is told, nobody else', async () => {
    const clipId = await at.add();
    await at.send(clipId, bench.at('long.mp4'));
    expect(await at.prepare(clipId)).toEqual({ state: 'failed', fault: 'too-long' });
    expect(await at.storage.list(`clips/${clipId}`)).toEqual([]);
    const told = await prisma.notice.findMany({ where: { programId: at.program.id } });
    expect(told).toMatchObject([
      {
        ...{ personId: at.coach.id, kind: 'drill-clip-failed', path: '/program/drills', playerId: null },
        data: { drillTitle: at.drill.title, reason: factsOfFault('too-long').forPeople },
      },
    ]);
    expect((await shown())[0]?.clip).toBeNull();
  });
});

test('a coach who left the staff is not told of a clip that failed', async () => {
  const clipId = await at.add();
  await at.send(clipId, bench.at('long.mp4'));
  await prisma.membership.updateMany({ where: { personId: at.coach.id }, data: { role: 'guardian' } });
  expect(await at.prepare(clipId)).toMatchObject({ state: 'failed' });
  expect(await prisma.notice.count({ where: { programId: at.program.id } })).toBe(0);
});
