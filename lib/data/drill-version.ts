import { v7 as uuid } from 'uuid';
import type { DrillId } from '@/lib/domain/drills/drill';
import { db, type Tx } from './client';
import { Prisma } from './generated/client';

/**
 * Retires a version of a drill and puts the next one in its place: like it, but for what `change` says. Answers the new
 * version's id, or null when the old one was offered no more.
 */
export async function putNextVersion(
  tx: Tx,
  id: string,
  change: Partial<Prisma.DrillUncheckedCreateInput>,
  { byId, at }: { byId: string; at: Date },
): Promise<DrillId | null> {
  const { count } = await db(tx).drill.updateMany({
    where: { id, retiredAt: null },
    data: { retiredAt: at },
  });
  if (count === 0) return null;
  const { drawing, ...before } = await db(tx).drill.findUniqueOrThrow({ where: { id } });
  const next = uuid();
  await db(tx).drill.create({
    data: {
      ...before,
      drawing: drawing ?? Prisma.DbNull,
      ...change,
      id: next,
      number: before.number + 1,
      createdById: byId,
      createdAt: at,
      retiredAt: null,
    },
  });
  return next as unknown as DrillId;
}
