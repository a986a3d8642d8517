import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import type { Recipe } from '@/lib/domain/breakdowns/timeline';
import type { BreakdownId, ExportId, RemarkId } from '@/lib/domain/shared/ids';

type BreakdownFactsToBuild = Partial<Omit<Prisma.BreakdownUncheckedCreateInput, 'recipe' | 'id'>> & {
  /** Given to the player's side, with captions. */
  isGiven?: boolean;
};

/** A breakdown with one stored part of one take; a ready one says that its files stand, but there are none. */
export async function buildBreakdown(
  lesson: { id: string },
  by: { id: string },
  { isGiven = false, ...facts }: BreakdownFactsToBuild = {},
) {
  const segmentId = uuid();
  const recipe: Recipe = {
    version: 1,
    clips: [{ clipId: uuid(), frameCount: 30 }],
    pieces: [{ segmentId, kind: 'voice', fromMs: 0, toMs: 4000 }],
  };
  const isReady = facts.state === 'ready';
  const row = await prisma.breakdown.create({
    data: {
      id: uuid(),
      lessonId: lesson.id,
      byId: by.id,
      ...(isReady
        ? { takes: 1, readyTake: 1, durationMs: 4000, voiceType: 'audio/webm', recipe, readyAt: new Date() }
        : {}),
      ...(isGiven
        ? {
            givenAt: new Date(),
            captionState: 'ready',
            captions: 'WEBVTT\n\n00:01.000 --> 00:03.000\nHands stay inside the ball.\n',
          }
        : {}),
      ...facts,
    },
  });
  await prisma.breakdownPart.create({
    data: {
      ...{ breakdownId: row.id, segmentId, number: 0, sizeBytes: 100 },
      storageKey: `breakdowns/${row.id}/parts/${segmentId}-0`,
      storedAt: new Date(),
    },
  });
  return { ...row, id: row.id as BreakdownId, segmentId, recipe };
}

/** An export that somebody asked for. */
export async function buildExport(breakdown: { id: string }, by: { id: string }) {
  const row = await prisma.breakdownExport.create({
    data: { id: uuid(), breakdownId: breakdown.id, byId: by.id, captions: 'none' },
  });
  return { ...row, id: row.id as ExportId };
}

/** A spoken remark on somebody's shelf, whose voice says it is stored. */
export async function buildRemark(
  program: { id: string },
  owner: { id: string },
  facts: Partial<Prisma.RemarkUncheckedCreateInput> = {},
) {
  const id = facts.id ?? uuid();
  const row = await prisma.remark.create({
    data: {
      ...{ id, seriesId: uuid(), number: 1, programId: program.id, ownerId: owner.id },
      title: 'Stay tall',
      durationMs: 3000,
      voiceType: 'audio/webm',
      storageKey: `remarks/${id}/part`,
      ...facts,
    },
  });
  return { ...row, id: row.id as RemarkId, seriesId: row.seriesId as RemarkId };
}
