import { writeAudit } from '@/lib/data/audit.write';
import { readLesson } from '@/lib/data/lessons.read';
import { readAuthor } from '@/lib/data/threads.read';
import { createReply } from '@/lib/data/threads.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { ReplyInput } from '@/lib/domain/threads/reply';
import type { Ports } from './ports';
import { assertContact, loadSide, tellPlayersSide, tellStaff } from './thread-side';

/**
 * Writes on a lesson, optionally on a frame of one of its clips; the same id again is the same reply. Staff cannot
 * reach a minor without a guardian on the thread. The other side is told by mail, without the words.
 */
export async function replyInThread(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: ReplyInput,
): Promise<void> {
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const lesson = await readLesson(viewer, input.lessonId as LessonId, tx);
    if (!lesson) throw notFound('lesson');
    if (lesson.state === 'draft' || lesson.state === 'withdrawn') {
      throw new CagepostError(
        'wrong-state',
        'Replies start once a lesson is sent. Your words are still in the field.',
      );
    }
    const side = await loadSide(viewer, lesson.threadId, now, tx);
    assertContact(viewer, side);
    if (!(await createReply(viewer, tx, { ...input, when: now }))) return;
    const author = await readAuthor(viewer, tx);
    const data = {
      programName: side.program.name,
      playerName: side.player.name,
      authorName: author.name,
      lessonNumber: lesson.number,
      path: `/lessons/${lesson.id}#reply-${input.id}`,
    };
    if (isStaff(viewer)) {
      await tellPlayersSide(viewer, tx, side, now, { kind: 'reply', data });
    } else {
      await tellStaff(viewer, tx, side, now, { kind: 'reply', data }, lesson.coach?.id ?? null);
    }
    await writeAudit(viewer, tx, {
      action: 'reply.written',
      subject: `lesson:${lesson.id}`,
      data: { reply: input.id },
    });
    await queue.drainOutbox(tx);
  });
}
