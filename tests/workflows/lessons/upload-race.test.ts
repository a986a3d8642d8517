import { expect, test, vi } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { transaction } from '@/lib/data/transaction';
import { storeClip } from '@/lib/data/uploads.system';
import type { PersonId } from '@/lib/domain/shared/ids';
import { claimUpload } from '@/lib/workflows/claim-upload';
import { buildClip, buildLesson, buildPlayer, buildProgram } from '../../support/build';
import { viewerOf } from '../../support/viewers';

const system = asSystem('worker');
const isWaiting = async () => {
  const [row] = await prisma.$queryRaw<{ n: bigint }[]>`
    SELECT count(*) AS n FROM pg_stat_activity
    WHERE datname = current_database() AND wait_event_type = 'Lock' AND query LIKE '%"Clip"%'`;
  return Number(row?.n) > 0;
};

test('a claim beside a sweep that notes the last byte waits for it, and does not open the clip again', async () => {
  const program = await buildProgram();
  const player = await buildPlayer(program);
  const lesson = await buildLesson(program, player, { state: 'draft' });
  const clip = await buildClip(lesson, { state: 'uploading', sizeBytes: 10n });
  const viewer = await viewerOf(player, program);

  let commit = () => {};
  const mayCommit = new Promise<void>((resolve) => (commit = resolve));
  let isNoted = false;
  const sweep = transaction(system, async (tx) => {
    const storageKey = `clips/${clip.id}/original.mp4`;
    await storeClip(system, tx, clip.id, {
      ...{ senderId: player.id as PersonId, storageKey, sizeBytes: 10, md5: 'aa' },
    });
    isNoted = true;
    await mayCommit;
  });
  await vi.waitUntil(() => isNoted, { timeout: 10_000 });
  const claim = claimUpload(viewer, clip.id, { sizeBytes: 10, type: 'video/mp4' });
  await vi.waitUntil(isWaiting, { timeout: 10_000 });
  commit();
  await sweep;
  expect(await claim).toEqual({ isStored: true });
  expect(await prisma.clip.findUnique({ where: { id: clip.id } })).toMatchObject({ state: 'uploaded' });
});
