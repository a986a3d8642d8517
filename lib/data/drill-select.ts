import { drawingSchema, type Drill, type DrillId } from '@/lib/domain/drills/drill';
import type { Prisma } from './generated/client';

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
} satisfies Prisma.DrillSelect;

/** A row of the library as the domain knows it. */
export const toDrill = (row: Prisma.DrillGetPayload<{ select: typeof drillFacts }>): Drill => ({
  ...row,
  id: row.id as unknown as DrillId,
  drawing: row.drawing === null ? null : drawingSchema.parse(row.drawing),
});
