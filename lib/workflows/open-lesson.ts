import { markSeen } from '@/lib/data/lessons.write';
import { markThreadRead } from '@/lib/data/threads.write';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, ThreadId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Notes that the viewer has the lesson before them: the coach sees "seen", and its replies count as read. */
export async function openLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  lesson: { id: LessonId; threadId: ThreadId },
): Promise<void> {
  const now = clock.now();
  await markSeen(viewer, lesson.id, now);
  await markThreadRead(viewer, lesson.threadId, now);
}
