import { v7 as uuid } from 'uuid';
import { expect } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import type { ClipId, PersonId } from '@/lib/domain/shared/ids';
import { createLocalStorage } from '@/lib/platform/storage-local';
import type { Storage } from '@/lib/workflows/ports';
import { addDrillClip } from '@/lib/workflows/add-drill-clip';
import { claimUpload } from '@/lib/workflows/claim-upload';
import { finishUpload } from '@/lib/workflows/finish-upload';
import { prepareClip } from '@/lib/workflows/prepare-clip';
import { buildCoach, buildGuardian, buildLesson, buildPlayer, buildProgram } from '../../support/build';
import { buildAssignment, buildDrill } from '../../support/build-practice';
import { fakePorts } from '../../support/fake-ports';
import type { openMediaBench } from '../../support/media/prepared-clip';
import { viewerOf } from '../../support/viewers';

export const refusal = (fault: string) => expect.objectContaining({ fault });
/** What a sender says of a file before its first byte. */
export const VIDEO = { sizeBytes: 10, type: 'video/mp4' };

const system = asSystem('worker');
type MediaBench = Awaited<ReturnType<typeof openMediaBench>>;

/**
 * A program with two coaches, a player of 15 who was given a drill, and a younger one who was not. The bench holds
 * a `drill.mp4`.
 */
export async function openLibrary(bench: MediaBench) {
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
    await claimUpload(as.coach, clipId, VIDEO);
    const storageKey = `clips/${clipId}/original.mp4`;
    await storage.put(storageKey, { path: file });
    await finishUpload(ports, system, clipId, {
      ...{ senderId: coach.id as PersonId, storageKey, sizeBytes: 10, md5: 'a'.repeat(32) },
    });
  };
  const prepare = (clipId: ClipId) => prepareClip({ ...ports, engine: bench.engine }, system, clipId);
  return { program, coach, player, lesson, drill, storage, as, ports, add, send, prepare };
}
