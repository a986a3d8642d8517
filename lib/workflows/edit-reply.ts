import { writeAudit } from '@/lib/data/audit.write';
import { readLesson } from '@/lib/data/lessons.read';
import { editReply as changeReply } from '@/lib/data/threads.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { ReplyId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { assertContact, loadSide } from './thread-side';

/** Changes one's own reply; what it said before stays readable under it. */
export async function editReply(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { id: ReplyId; body: string },
): Promise<void> {
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const lessonId = await changeReply(viewer, tx, input.id, input.body, now);
    const lesson = await readLesson(viewer, lessonId, tx);
    if (!lesson) throw notFound('lesson');
    // An edit reaches the player as a new word would: the same gate, and the throw undoes the change.
    assertContact(viewer, await loadSide(viewer, lesson.threadId, now, tx));
    await writeAudit(viewer, tx, {
      action: 'reply.edited',
      subject: `lesson:${lessonId}`,
      data: { reply: input.id },
    });
  });
}
