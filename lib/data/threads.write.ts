import { v7 as uuid } from 'uuid';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId, ReplyId } from '@/lib/domain/shared/ids';
import type { ReplyInput } from '@/lib/domain/threads/reply';
import { db, type Tx } from './client';
import { breakdownsVisibleTo, lessonsVisibleTo } from './visibility';

/**
 * Writes a reply, once: the same id again changes nothing and answers `false`. A frame must be one of a clip of that
 * lesson. Who may write at all is decided by the workflow.
 */
export async function createReply(
  viewer: Viewer,
  tx: Tx,
  input: ReplyInput & { at: ReplyInput['at']; when: Date },
): Promise<boolean> {
  const lesson = await db(tx).lesson.findFirst({
    where: { AND: [{ id: input.lessonId }, lessonsVisibleTo(viewer)] },
    select: { threadId: true, clips: { where: { removedAt: null }, select: { id: true, frameCount: true } } },
  });
  if (!lesson) throw notFound('lesson');
  const known = await db(tx).reply.findUnique({
    where: { id: input.id },
    select: { authorId: true, lessonId: true },
  });
  if (known) {
    if (known.authorId !== viewer.personId || known.lessonId !== input.lessonId) throw notFound('reply');
    return false;
  }
  if (input.at) {
    const clip = lesson.clips.find((c) => c.id === input.at?.clipId);
    if (!clip) throw notFound('clip');
    if (input.at.frame >= (clip.frameCount ?? 0)) {
      throw new CagepostError('invalid', 'That frame is not in the clip. Your words are still in the field.');
    }
  }
  if (input.moment) {
    const breakdown = await db(tx).breakdown.findFirst({
      where: {
        AND: [
          { id: input.moment.breakdownId, lessonId: input.lessonId, removedAt: null },
          breakdownsVisibleTo(viewer),
        ],
      },
      select: { durationMs: true },
    });
    if (!breakdown) throw notFound('breakdown');
    if (input.moment.ms > (breakdown.durationMs ?? 0)) {
      throw new CagepostError(
        'invalid',
        'That moment is not in the breakdown. Your words are still in the field.',
      );
    }
  }
  // The look-up above is for the clear answer; a repeat sent at the same moment is held off here.
  const { count } = await db(tx).reply.createMany({
    data: {
      id: input.id,
      threadId: lesson.threadId,
      lessonId: input.lessonId,
      authorId: viewer.personId,
      body: input.body,
      clipId: input.at?.clipId ?? null,
      frame: input.at?.frame ?? null,
      breakdownId: input.moment?.breakdownId ?? null,
      momentMs: input.moment?.ms ?? null,
      at: input.when,
    },
    skipDuplicates: true,
  });
  return count === 1;
}

/** Changes the viewer's own reply and keeps what it said before. Returns the lesson it belongs to. */
export async function editReply(
  viewer: Viewer,
  tx: Tx,
  id: ReplyId,
  body: string,
  at: Date,
): Promise<LessonId> {
  await db(tx).$queryRaw`SELECT 1 FROM "Reply" WHERE id = ${id}::uuid FOR UPDATE`;
  const reply = await db(tx).reply.findFirst({
    where: { id, authorId: viewer.personId, lesson: lessonsVisibleTo(viewer) },
    select: { body: true, lessonId: true },
  });
  if (!reply) throw notFound('reply');
  if (reply.body !== body) {
    await db(tx).replyEdit.create({ data: { id: uuid(), replyId: id, body: reply.body, at } });
    await db(tx).reply.update({ where: { id }, data: { body, editedAt: at } });
  }
  return reply.lessonId as LessonId;
}

/** Notes that the viewer has read the replies of a lesson up to now; never moves back. */
export async function markRepliesRead(viewer: Viewer, lessonId: LessonId, at: Date): Promise<void> {
  const where = { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] };
  if ((await db().lesson.count({ where })) === 0) return;
  await db().readMark.upsert({
    where: { personId_lessonId: { personId: viewer.personId, lessonId } },
    create: { personId: viewer.personId, lessonId, readAt: at },
    update: {},
  });
  await db().readMark.updateMany({
    where: { personId: viewer.personId, lessonId, readAt: { lt: at } },
    data: { readAt: at },
  });
}
