import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId, LessonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { clipFacts, toClip } from './select';
import { clipsVisibleTo, drillClipsVisibleTo } from './visibility';

/** A clip that the viewer may see, of a lesson (then with it) or of a drill, or null. */
export async function readClip(
  viewer: Viewer,
  id: ClipId,
): Promise<(ClipFacts & { lessonId: LessonId | null }) | null> {
  const row = await prisma.clip.findFirst({
    where: { id, OR: [clipsVisibleTo(viewer), drillClipsVisibleTo(viewer)] },
    select: { ...clipFacts, lessonId: true },
  });
  return row && { ...toClip(row), lessonId: row.lessonId as LessonId | null };
}

/** The clips of a lesson in the sender's order, with how far each is; empty when the lesson is not the viewer's to see. */
export async function listClips(viewer: Viewer, lessonId: LessonId): Promise<ClipFacts[]> {
  const rows = await prisma.clip.findMany({
    where: { AND: [{ lessonId }, clipsVisibleTo(viewer)] },
    select: clipFacts,
    orderBy: { position: 'asc' },
  });
  return rows.map(toClip);
}
