import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId, ClipId, LessonId, ReplyId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { olderThan, pageOf, parsePlace } from './keyset';
import { personRef, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

/** A reply as shown, with what it said before its edits. */
export interface ReplyFacts {
  id: ReplyId;
  author: PersonRef & { isStaff: boolean };
  body: string;
  at: Date;
  editedAt: Date | null;
  earlier: { body: string; at: Date }[];
  frame: { clipId: ClipId; frame: number } | null;
  /** The moment of a breakdown that it hangs on, in milliseconds. */
  moment: { breakdownId: BreakdownId; ms: number; title: string } | null;
}

/**
 * The newest replies of a lesson, the oldest of them first; `after` is the `next` of the page before, which leads to
 * earlier ones. Empty when the lesson is not the viewer's to see.
 */
export async function listReplies(
  viewer: Viewer,
  lessonId: LessonId,
  { after = null, take = 50 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: ReplyFacts[]; next: string | null; isNewest: boolean }> {
  const place = parsePlace(after);
  const found = await prisma.reply.findMany({
    where: {
      AND: [
        { lessonId, lesson: { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] } },
        olderThan('at', place),
      ],
    },
    select: {
      id: true,
      body: true,
      at: true,
      editedAt: true,
      clipId: true,
      frame: true,
      momentMs: true,
      breakdown: { select: { id: true, title: true } },
      author: {
        select: {
          ...personRef,
          memberships: {
            where: { programId: viewer.programId, role: { in: ['coach', 'lead'] } },
            select: { role: true },
          },
        },
      },
      edits: { select: { body: true, at: true }, orderBy: { at: 'asc' } },
    },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: take + 1,
  });
  const { rows, next } = pageOf(found, take, (row) => row);
  const replies = rows.reverse().map((row) => ({
    id: row.id as ReplyId,
    author: { ...toPerson(row.author), isStaff: row.author.memberships.length > 0 },
    body: row.body,
    at: row.at,
    editedAt: row.editedAt,
    earlier: row.edits,
    frame:
      row.clipId !== null && row.frame !== null ? { clipId: row.clipId as ClipId, frame: row.frame } : null,
    moment:
      row.breakdown && row.momentMs !== null
        ? { breakdownId: row.breakdown.id as BreakdownId, ms: row.momentMs, title: row.breakdown.title }
        : null,
  }));
  return { rows: replies, next, isNewest: place === null };
}
