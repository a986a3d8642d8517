import { answer } from '@/app/_server/api';
import { clipUrl } from '@/app/_server/clip-url';
import { ports } from '@/app/_server/ports';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { readClip } from '@/lib/data/clips.read';
import { readLesson } from '@/lib/data/lessons.read';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type ClipId } from '@/lib/domain/shared/ids';
import { systemClock } from '@/lib/platform/clock';
import { noteShown } from '@/lib/workflows/note-shown';

/**
 * Fresh addresses of a clip's files: for a page that has stood open longer than the one it was drawn with lasts, and for
 * the clip of a drill, which is asked for when it is looked at.
 */
export const GET = (_request: Request, { params }: { params: Promise<{ clipId: string }> }) =>
  answer('clip.address', async () => {
    const viewer = await viewerOrRefuse();
    const id = anId<ClipId>().safeParse((await params).clipId);
    const clip = id.success ? await readClip(viewer, id.data) : null;
    if (!clip) throw notFound('clip');
    const lesson = clip.lessonId && (await readLesson(viewer, clip.lessonId));
    if (lesson) await noteShown(ports, viewer, { playerId: lesson.player.id, what: 'clip', id: clip.id });
    const now = systemClock.now();
    return {
      video: clipUrl(viewer, clip.id, 'review.mp4', now),
      table: clipUrl(viewer, clip.id, 'frames.json', now),
      poster: clipUrl(viewer, clip.id, 'poster.jpg', now),
    };
  });
