import { drawingSchema, type Drill, type DrillId } from '@/lib/domain/drills/drill';
import type { DrillClip } from '@/lib/domain/drills/drill-clip';
import type { Prisma } from './generated/client';
import { clipFacts, toClip } from './select';

export const drillClipFacts = { ...clipFacts, shows: true, removedAt: true } satisfies Prisma.ClipSelect;

export const drillFacts = {
  id: true,
  seriesId: true,
  number: true,
  title: true,
  summary: true,
  steps: true,
  stages: true,
  drawing: true,
  safety: true,
  itemIds: true,
  standing: true,
  clip: { select: drillClipFacts },
} satisfies Prisma.DrillSelect;

/** A clip of the library as the domain knows it; null for one of a lesson. */
export const toDrillClip = ({
  shows,
  removedAt: _gone,
  ...row
}: Prisma.ClipGetPayload<{ select: typeof drillClipFacts }>): DrillClip | null =>
  shows && { ...toClip(row), shows };

/** A row of the library as the domain knows it. */
export const toDrill = (row: Prisma.DrillGetPayload<{ select: typeof drillFacts }>): Drill => ({
  ...row,
  id: row.id as unknown as DrillId,
  drawing: row.drawing === null ? null : drawingSchema.parse(row.drawing),
  clip: row.clip?.state === 'ready' && row.clip.removedAt === null ? toDrillClip(row.clip) : null,
});
