import type { LedgerKind } from '@/lib/domain/billing/ledger';
import type { PayMethod } from '@/lib/domain/billing/methods';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';

/** What happened with money in one month of the program's calendar ("2026-11"), in minor units. */
export interface MonthLine {
  month: string;
  currency: string;
  chargedMinor: number;
  receivedMinor: number;
  waivedMinor: number;
  refundedMinor: number;
  packedMinor: number;
}

/** For leads: the totals of each month since then, the latest first. Empty for anybody else. */
export async function listMonths(viewer: Viewer, since: Date): Promise<MonthLine[]> {
  if (!isLead(viewer)) return [];
  return prisma.$queryRaw<MonthLine[]>`
    SELECT to_char(e.at AT TIME ZONE p."timeZone", 'YYYY-MM') AS month, e.currency,
      COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind IN ('charge', 'pack_sale', 'correction')), 0)::float8
        AS "chargedMinor",
      COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'payment'), 0)::float8 AS "receivedMinor",
      COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'waiver'), 0)::float8 AS "waivedMinor",
      COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'refund'), 0)::float8 AS "refundedMinor",
      COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'pack_use'), 0)::float8 AS "packedMinor"
    FROM "LedgerEntry" e JOIN "Program" p ON p.id = e."programId"
    WHERE e."programId" = ${viewer.programId}::uuid AND e.at >= ${since}
    GROUP BY 1, 2 ORDER BY 1 DESC, 2`;
}

/** One entry of the program's books, as a table has it. */
export interface BookRow {
  id: string;
  at: Date;
  kind: LedgerKind;
  amountMinor: number;
  currency: string;
  method: PayMethod | null;
  reason: string;
  payer: string;
  lessonId: string | null;
  lessonNumber: number | null;
  pack: string | null;
  by: string;
}

/**
 * For leads: entries from an instant on and before another, in the order they were made, at most `take`; `after` is
 * the last row of the page before. Empty for anybody else.
 */
export async function listBook(
  viewer: Viewer,
  {
    from,
    to,
    after = null,
    take = 500,
  }: { from: Date; to: Date; after?: Pick<BookRow, 'id' | 'at'> | null; take?: number },
): Promise<BookRow[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.ledgerEntry.findMany({
    where: {
      programId: viewer.programId,
      at: { gte: after?.at ?? from, lt: to },
      ...(after ? { OR: [{ at: { gt: after.at } }, { at: after.at, id: { gt: after.id } }] } : {}),
    },
    select: {
      id: true,
      at: true,
      kind: true,
      amountMinor: true,
      currency: true,
      method: true,
      reason: true,
      lessonId: true,
      actorId: true,
      payer: { select: { name: true } },
      lesson: { select: { number: true } },
      pack: { select: { label: true } },
    },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    take,
  });
  const actors = await prisma.person.findMany({
    where: { id: { in: [...new Set(rows.map((row) => row.actorId))] } },
    select: { id: true, name: true },
  });
  const names = new Map(actors.map((person) => [person.id, person.name]));
  return rows.map(({ payer, lesson, pack, actorId, ...row }) => ({
    ...row,
    payer: payer.name,
    lessonNumber: lesson?.number ?? null,
    pack: pack?.label ?? null,
    by: names.get(actorId) ?? 'Somebody who left',
  }));
}
