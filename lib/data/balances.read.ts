import type { PersonRef } from '@/lib/domain/lessons/lesson';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PackId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { personRef, toPerson } from './select';
import { familyOf } from './visibility';

/** Where one lesson, one pack or a payer's rest stands. Amounts in minor units of its currency. */
export interface BalanceLine {
  subject: string;
  payer: PersonRef;
  /** The lesson, with its player and number in the thread. */
  lesson: { id: LessonId; number: number; player: PersonRef } | null;
  pack: { id: PackId; label: string } | null;
  currency: string;
  chargedMinor: number;
  receivedMinor: number;
  owedMinor: number;
  /** Received and, by the rule of cancellation or because it was too much, to be given back. */
  toGiveBackMinor: number;
  isFromPack: boolean;
  dueAt: Date | null;
  since: Date;
}

const balanceLine = {
  subject: true,
  payer: { select: personRef },
  lesson: { select: { id: true, number: true, thread: { select: { player: { select: personRef } } } } },
  pack: { select: { id: true, label: true } },
  currency: true,
  chargedMinor: true,
  paidMinor: true,
  refundedMinor: true,
  packedMinor: true,
  owedMinor: true,
  promisedMinor: true,
  dueAt: true,
  since: true,
} satisfies Prisma.BalanceSelect;

const toLine = (row: Prisma.BalanceGetPayload<{ select: typeof balanceLine }>): BalanceLine => {
  const { lesson, pack, payer } = row;
  const receivedMinor = row.paidMinor - row.refundedMinor;
  return {
    subject: row.subject,
    payer: toPerson(payer),
    lesson: lesson && {
      id: lesson.id as LessonId,
      number: lesson.number ?? 0,
      player: toPerson(lesson.thread.player),
    },
    pack: pack && { ...pack, id: pack.id as PackId },
    currency: row.currency,
    chargedMinor: row.chargedMinor,
    receivedMinor,
    owedMinor: Math.max(0, row.owedMinor),
    toGiveBackMinor: lesson || pack ? Math.max(0, row.promisedMinor - row.refundedMinor) : receivedMinor,
    isFromPack: row.packedMinor > 0,
    dueAt: row.dueAt,
    since: row.since,
  };
};

/** One page of balances. `next` opens the one after it; null at the end. */
export interface OwedPage {
  rows: BalanceLine[];
  next: string | null;
}

/** For leads: what is still owed in the program, the longest due first; `after` is the `next` of the page before. Empty for anybody else. */
export async function listOwed(
  viewer: Viewer,
  { after = null, take = 50 }: { after?: string | null; take?: number } = {},
): Promise<OwedPage> {
  if (!isLead(viewer)) return { rows: [], next: null };
  const rows = await owedAfter({ programId: viewer.programId }, after, take + 1);
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return {
    rows: page.map(toLine),
    next: last ? `${last.dueAt?.toISOString() ?? ''}_${last.subject}` : null,
  };
}

// Where a page goes on, by value: entries recorded meanwhile neither repeat nor skip a row. What has no due date comes
// last, by a query of its own: in one with the others no index would say where to begin.
async function owedAfter(of: Prisma.BalanceWhereInput, after: string | null, take: number) {
  const [, due = '', subject = ''] = /^([^_]*)_(.+)$/.exec(after ?? '') ?? [];
  const dueAt = new Date(due);
  const isBeyond = subject !== '' && due === '';
  const from: Prisma.BalanceWhereInput =
    subject === '' || Number.isNaN(dueAt.getTime())
      ? { dueAt: { not: null } }
      : { dueAt: { gte: dueAt }, OR: [{ dueAt: { gt: dueAt } }, { dueAt, subject: { gt: subject } }] };
  const page = (where: Prisma.BalanceWhereInput, count: number) =>
    prisma.balance.findMany({
      where: { ...of, owedMinor: { gt: 0 }, ...where },
      select: balanceLine,
      orderBy: [{ dueAt: 'asc' }, { subject: 'asc' }],
      take: count,
    });
  const dated = isBeyond ? [] : await page(from, take);
  if (dated.length === take) return dated;
  const rest = { dueAt: null, ...(isBeyond ? { subject: { gt: subject } } : {}) };
  return [...dated, ...(await page(rest, take - dated.length))];
}

const TO_GIVE_BACK = {
  OR: [
    { promisedMinor: { gt: prisma.balance.fields.refundedMinor } },
    { lessonId: null, packId: null, paidMinor: { gt: prisma.balance.fields.refundedMinor } },
  ],
} satisfies Prisma.BalanceWhereInput;

/**
 * For leads: what was received and is to be given back, the oldest first, at most `take`; giving back makes room for
 * more. Empty for anybody else.
 */
export async function listToGiveBack(viewer: Viewer, take = 50): Promise<BalanceLine[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.balance.findMany({
    where: { programId: viewer.programId, ...TO_GIVE_BACK },
    select: balanceLine,
    orderBy: [{ since: 'asc' }, { subject: 'asc' }],
    take,
  });
  return rows.map(toLine);
}

/** What the viewer's family still owes, the longest due first, or is to get back; 200 at most. Nobody else's, for a lead neither. */
export async function listFamilyOpen(viewer: Viewer): Promise<BalanceLine[]> {
  const [owed, back] = await Promise.all([
    owedAfter(familyOf(viewer), null, 200),
    prisma.balance.findMany({
      where: { AND: [familyOf(viewer), { owedMinor: { lte: 0 } }, TO_GIVE_BACK] },
      select: balanceLine,
      orderBy: [{ since: 'asc' }, { subject: 'asc' }],
      take: 200,
    }),
  ]);
  return [...owed, ...back].map(toLine);
}

/** What the viewer's family was charged and is settled, the newest first; `after` is the `next` of the page before. */
export async function listFamilySettled(
  viewer: Viewer,
  { after = null, take = 30 }: { after?: string | null; take?: number } = {},
): Promise<OwedPage> {
  const [, instant = '', subject = ''] = /^([^_]+)_(.+)$/.exec(after ?? '') ?? [];
  const since = new Date(instant);
  const rows = await prisma.balance.findMany({
    where: {
      AND: [
        familyOf(viewer),
        { owedMinor: { lte: 0 } },
        subject === '' || Number.isNaN(since.getTime())
          ? {}
          : { since: { lte: since }, OR: [{ since: { lt: since } }, { since, subject: { lt: subject } }] },
      ],
    },
    select: balanceLine,
    orderBy: [{ since: 'desc' }, { subject: 'desc' }],
    take: take + 1,
  });
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return { rows: page.map(toLine), next: last ? `${last.since.toISOString()}_${last.subject}` : null };
}
