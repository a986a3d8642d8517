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

/**
 * For leads: the totals of each month, the latest first, at most `take` lines; `after` is the `next` of the page
 * before. They are kept by the database beside the entries: a year of them is not added up anew. Empty for anybody else.
 */
export async function listMonths(
  viewer: Viewer,
  { after = null, take = 13 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: MonthLine[]; next: string | null }> {
  if (!isLead(viewer)) return { rows: [], next: null };
  const [, month, currency] = /^(\d{4}-\d{2})_([A-Z]{3})$/.exec(after ?? '') ?? [];
  const rows = await prisma.monthTotal.findMany({
    where: {
      programId: viewer.programId,
      ...(month && currency
        ? { month: { lte: month }, OR: [{ month: { lt: month } }, { month, currency: { lt: currency } }] }
        : {}),
    },
    orderBy: [{ month: 'desc' }, { currency: 'desc' }],
    take: take + 1,
  });
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return {
    rows: page.map((row) => ({
      month: row.month,
      currency: row.currency,
      chargedMinor: Number(row.chargedMinor),
      receivedMinor: Number(row.receivedMinor),
      waivedMinor: Number(row.waivedMinor),
      refundedMinor: Number(row.refundedMinor),
      packedMinor: Number(row.packedMinor),
    })),
    next: last ? `${last.month}_${last.currency}` : null,
  };
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
