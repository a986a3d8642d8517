import { checklistItemSchema, type Checklist, type ChecklistItem } from '@/lib/domain/checkpoints/checklist';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import { toChecklist } from './select';

/** A version of the program's checklist, with who made it; null for the one that the program began with. */
export interface ChecklistVersion {
  number: number;
  items: Checklist;
  at: Date;
  by: string | null;
}

/**
 * The versions of the program's checklist, newest first, from the one before `before` on. For staff; empty for anybody
 * else. `next` is the `before` of the following page.
 */
export async function listChecklistVersions(
  viewer: Viewer,
  { before, take = 20 }: { before: number | null; take?: number },
): Promise<{ versions: ChecklistVersion[]; next: number | null }> {
  if (!isStaff(viewer)) return { versions: [], next: null };
  const rows = await prisma.checklist.findMany({
    where: { programId: viewer.programId, ...(before === null ? {} : { number: { lt: before } }) },
    select: { number: true, items: true, createdAt: true, createdById: true },
    orderBy: { number: 'desc' },
    take: take + 1,
  });
  const people = await prisma.person.findMany({
    where: { id: { in: rows.flatMap((row) => (row.createdById ? [row.createdById] : [])) } },
    select: { id: true, name: true },
  });
  const names = new Map(people.map((person) => [person.id, person.name]));
  const versions = rows.slice(0, take).map((row) => ({
    number: row.number,
    items: toChecklist(row.items),
    at: row.createdAt,
    by: row.createdById ? (names.get(row.createdById) ?? 'Somebody who left') : null,
  }));
  return { versions, next: rows.length > take ? (versions.at(-1)?.number ?? null) : null };
}

/** One version of the program's checklist, for staff; null when there is none of that number. */
export async function readChecklistVersion(viewer: Viewer, number: number): Promise<ChecklistVersion | null> {
  const { versions } = await listChecklistVersions(viewer, { before: number + 1, take: 1 });
  return versions[0]?.number === number ? versions[0] : null;
}

/** Items that earlier versions had and the present one has not, as they stood last, by name. For leads. */
export async function listRetiredItems(viewer: Viewer): Promise<ChecklistItem[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.$queryRaw<{ item: unknown }[]>`
    SELECT item FROM (
      SELECT DISTINCT ON (item->>'id') item, number
      FROM "Checklist", jsonb_array_elements(items) AS item
      WHERE "programId" = ${viewer.programId}::uuid
      ORDER BY item->>'id', number DESC
    ) AS lately
    WHERE number < (SELECT max(number) FROM "Checklist" WHERE "programId" = ${viewer.programId}::uuid)
    ORDER BY item->>'title'`;
  return rows.map((row) => checklistItemSchema.parse(row.item));
}
