import { accountOf, type Account } from '@/lib/domain/billing/ledger';
import type { PackFacts } from '@/lib/domain/billing/packs';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PackId, PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import type { Prisma } from './generated/client';
import { olderThan, pageOf, parsePlace } from './keyset';
import { ledgerFacts, personRef, toPerson } from './select';
import { familyOf, packsUsableFor, packsVisibleTo, playersVisibleTo } from './visibility';

/** A pack as the sender chooses it: how much is left, and until when. */
export interface UsablePack extends PackFacts {
  id: PackId;
  label: string;
}

/** A pack with what was paid for it. */
export interface PackOnPage extends UsablePack {
  payer: PersonRef;
  currency: string;
  soldAt: Date;
  account: Account;
}

const packFacts = {
  id: true,
  label: true,
  lessons: true,
  usedLessons: true,
  validUntil: true,
} satisfies Prisma.PackSelect;

const toUsable = (row: Prisma.PackGetPayload<{ select: typeof packFacts }>): UsablePack => ({
  ...row,
  id: row.id as PackId,
});

/** Packs that can pay for a lesson of this player now, the one that ends first first. Empty when the player is not the viewer's to see. */
export async function listUsablePacks(viewer: Viewer, playerId: PersonId, now: Date): Promise<UsablePack[]> {
  const player = await prisma.person.count({ where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] } });
  if (player === 0) return [];
  const rows = await prisma.pack.findMany({
    where: { AND: [packsUsableFor(viewer, playerId), { validUntil: { gte: now } }] },
    select: packFacts,
    orderBy: [{ validUntil: 'asc' }, { id: 'asc' }],
  });
  return rows.map(toUsable).filter((pack) => pack.usedLessons < pack.lessons);
}

/**
 * Packs of the viewer's family, or for leads of the whole program, newest first; `after` is the `next` of the page
 * before.
 */
export async function listPacks(
  viewer: Viewer,
  of: 'family' | 'program',
  { after = null, take = 30 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: PackOnPage[]; next: string | null }> {
  const found = await prisma.pack.findMany({
    where: {
      AND: [
        packsVisibleTo(viewer),
        of === 'family' ? familyOf(viewer) : {},
        olderThan('soldAt', parsePlace(after)),
      ],
    },
    select: {
      ...packFacts,
      currency: true,
      soldAt: true,
      payer: { select: personRef },
      // What pays for lessons belongs to the lessons.
      ledger: { where: { lessonId: null }, select: ledgerFacts, orderBy: { at: 'asc' } },
    },
    orderBy: [{ soldAt: 'desc' }, { id: 'desc' }],
    take: take + 1,
  });
  const { rows, next } = pageOf(found, take, (row) => ({ at: row.soldAt, id: row.id }));
  return {
    rows: rows.map(({ payer, ledger, currency, soldAt, ...pack }) => ({
      ...toUsable(pack),
      payer: toPerson(payer),
      currency,
      soldAt,
      account: accountOf(ledger),
    })),
    next,
  };
}

/** Locks a pack that the player may use until the transaction ends, and tells what is left; null when there is none such. */
export async function lockUsablePack(
  viewer: Viewer,
  tx: Tx,
  packId: PackId,
  playerId: PersonId,
): Promise<(UsablePack & { payerId: PersonId; currency: string }) | null> {
  const player = await db(tx).person.count({ where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] } });
  if (player === 0) return null;
  // Two lessons sent at the same moment would both find the last lesson of the pack left.
  await db(tx).$queryRaw`SELECT 1 FROM "Pack" WHERE id = ${packId}::uuid FOR UPDATE`;
  const row = await db(tx).pack.findFirst({
    where: { AND: [{ id: packId }, packsUsableFor(viewer, playerId)] },
    select: { ...packFacts, payerId: true, currency: true },
  });
  return row && { ...toUsable(row), payerId: row.payerId as PersonId, currency: row.currency };
}

/** Locks a pack until the transaction ends, with the entries of its own; null when it is not the viewer's to see. */
export async function lockPack(viewer: Viewer, tx: Tx, packId: PackId) {
  await db(tx).$queryRaw`SELECT 1 FROM "Pack" WHERE id = ${packId}::uuid FOR UPDATE`;
  const row = await db(tx).pack.findFirst({
    where: { AND: [{ id: packId }, packsVisibleTo(viewer)] },
    select: {
      label: true,
      payerId: true,
      currency: true,
      ledger: { where: { lessonId: null }, select: ledgerFacts },
    },
  });
  return row && { ...row, payerId: row.payerId as PersonId };
}
