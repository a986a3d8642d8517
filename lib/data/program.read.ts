import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { Day } from '@/lib/domain/people/age';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { db, prisma, type Tx } from './client';
import { olderThan, pageOf, parsePlace } from './keyset';
import { programFacts, toChecklist, toProgram } from './select';
import { type Reached, staffToTell } from './staff-to-tell';

/** The viewer's own program with its present price; everybody in it may know these. */
export async function readProgram(
  viewer: Viewer,
  tx?: Tx,
): Promise<ProgramFacts & { price: { label: string; amountMinor: number; currency: string } | null }> {
  const row = await db(tx).program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: {
      ...programFacts,
      prices: {
        where: { retiredAt: null, kind: 'lesson' },
        select: { label: true, amountMinor: true, currency: true },
        orderBy: { createdAt: 'desc' },
        take: 1,
      },
    },
  });
  return { ...toProgram(row), price: row.prices[0] ?? null };
}

/** The present version of the program's checklist. */
export async function readChecklist(viewer: Viewer): Promise<{ number: number; items: Checklist } | null> {
  const row = await prisma.checklist.findFirst({
    where: { programId: viewer.programId },
    select: { number: true, items: true },
    orderBy: { number: 'desc' },
  });
  return row && { number: row.number, items: toChecklist(row.items) };
}

/**
 * Staff to tell of a lesson: its coach, or all coaches and leads when it has none or its coach cannot be reached any
 * more. Of a minor's lesson only leads, and coaches whose checks hold on `today`. Used by workflows only.
 */
export async function listStaffToTell(
  viewer: Viewer,
  tx: Tx,
  about: { coachId: string | null; isMinors: boolean; today: Day },
): Promise<Reached[]> {
  return staffToTell(tx, viewer.programId, about);
}

/** One thing that was done; `actor` is null where the program did it by itself. */
export interface AuditLine {
  id: string;
  actor: string | null;
  action: string;
  subject: string;
  at: Date;
}

/** For leads: what was done, newest first; `after` is the `next` of the page before. Empty for anybody else. */
export async function listAudit(
  viewer: Viewer,
  { after = null, take = 60 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: AuditLine[]; next: string | null }> {
  if (!isLead(viewer)) return { rows: [], next: null };
  const found = await prisma.auditEntry.findMany({
    where: { programId: viewer.programId, ...olderThan('at', parsePlace(after)) },
    select: { id: true, actorId: true, action: true, subject: true, at: true },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: take + 1,
  });
  const { rows, next } = pageOf(found, take, (row) => row);
  const people = await prisma.person.findMany({
    where: { id: { in: rows.flatMap((row) => (row.actorId ? [row.actorId] : [])) } },
    select: { id: true, name: true },
  });
  const names = new Map(people.map((person) => [person.id, person.name]));
  return {
    rows: rows.map(({ actorId, ...row }) => ({
      ...row,
      actor: actorId ? (names.get(actorId) ?? 'Somebody who left') : null,
    })),
    next,
  };
}
