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

/** One page of what is owed. `next` opens the one after it; null at the end. */
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
  const rows = await prisma.balance.findMany({
    where: { programId: viewer.programId, owedMinor: { gt: 0 }, ...afterPlace(after) },
    select: balanceLine,
    orderBy: [{ dueAt: { sort: 'asc', nulls: 'last' } }, { subject: 'asc' }],
    take: take + 1,
  });
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return {
    rows: page.map(toLine),
    next: last ? `${last.dueAt?.toISOString() ?? ''}_${last.subject}` : null,
  };
}

// Where a page goes on, by value: entries recorded meanwhile neither repeat nor skip a row.
function afterPlace(after: string | null): Prisma.BalanceWhereInput {
  const [, due = '', subject = ''] = /^([^_]*)_(.+)$/.exec(after ?? '') ?? [];
  if (!subject) return {};
  const dueAt = new Date(due);
  if (due === '') return { dueAt: null, subject: { gt: subject } };
  if (Number.isNaN(dueAt.getTime())) return {};
  return { OR: [{ dueAt: { gt: dueAt } }, { dueAt, subject: { gt: subject } }, { dueAt: null }] };
}

/** For leads: what was received and is to be given back, the oldest first, at most `take`. Empty for anybody else. */
export async function listToGiveBack(viewer: Viewer, take = 50): Promise<BalanceLine[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.balance.findMany({
    where: {
      programId: viewer.programId,
      OR: [
        { promisedMinor: { gt: prisma.balance.fields.refundedMinor } },
        { lessonId: null, packId: null, paidMinor: { gt: prisma.balance.fields.refundedMinor } },
      ],
    },
    select: balanceLine,
    orderBy: [{ since: 'asc' }, { subject: 'asc' }],
    take,
  });
  return rows.map(toLine);
}

/** What the viewer's family has been charged, the newest first, at most `take`; nobody else's, for a lead neither. */
export async function listFamilyBalances(viewer: Viewer, take = 100): Promise<BalanceLine[]> {
  const rows = await prisma.balance.findMany({
    where: familyOf(viewer),
    select: balanceLine,
    orderBy: [{ since: 'desc' }, { subject: 'desc' }],
    take,
  });
  return rows.map(toLine);
}
