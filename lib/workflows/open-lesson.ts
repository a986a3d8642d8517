import { readLesson } from '@/lib/data/lessons.read';
import { markSeen } from '@/lib/data/lessons.write';
import { markRepliesRead } from '@/lib/data/threads.write';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Notes that the viewer has the lesson before them: the coach sees "seen", and its replies count as read. */
export async function openLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  lessonId: LessonId,
): Promise<void> {
  const now = clock.now();
  const lesson = await readLesson(viewer, lessonId);
  if (!lesson) throw notFound('lesson');
  await markSeen(viewer, lesson.id, now);
  await markRepliesRead(viewer, lesson.id, now);
}
