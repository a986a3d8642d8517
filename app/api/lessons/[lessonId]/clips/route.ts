import { answer } from '@/app/_server/api';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { listClips } from '@/lib/data/clips.read';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type LessonId } from '@/lib/domain/shared/ids';

/** How far each clip of the lesson is; screens ask again while one is on its way. */
export const GET = (_request: Request, { params }: { params: Promise<{ lessonId: string }> }) =>
  answer('clips.read', async () => {
    const id = anId<LessonId>().safeParse((await params).lessonId);
    if (!id.success) throw notFound('lesson');
    return { clips: await listClips(await viewerOrRefuse(), id.data) };
  });
