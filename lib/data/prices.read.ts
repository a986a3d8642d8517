import type { PriceLine } from '@/lib/domain/billing/prices';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { PriceId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import type { Prisma } from './generated/client';

const priceLine = {
  id: true,
  seriesId: true,
  number: true,
  kind: true,
  label: true,
  lessons: true,
  validDays: true,
  amountMinor: true,
  currency: true,
  createdAt: true,
  retiredAt: true,
} satisfies Prisma.PriceSelect;

const toLine = (row: Prisma.PriceGetPayload<{ select: typeof priceLine }>): PriceLine => ({
  ...row,
  id: row.id as PriceId,
});

/** The price list as it stands, lessons before packs; everybody in the program may read it. */
export async function listPrices(viewer: Viewer, tx?: Tx): Promise<PriceLine[]> {
  const rows = await db(tx).price.findMany({
    where: { programId: viewer.programId, retiredAt: null },
    select: priceLine,
    orderBy: [{ kind: 'asc' }, { lessons: 'asc' }, { createdAt: 'desc' }],
  });
  return rows.map(toLine);
}

/** For leads: every version that does not hold any more, the latest first, at most `take`. Empty for anybody else. */
export async function listOldPrices(viewer: Viewer, take = 50): Promise<PriceLine[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.price.findMany({
    where: { programId: viewer.programId, retiredAt: { not: null } },
    select: priceLine,
    orderBy: [{ retiredAt: 'desc' }, { id: 'desc' }],
    take,
  });
  return rows.map(toLine);
}
