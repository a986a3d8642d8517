import { answer } from '@/app/_server/api';
import { breakdownsOnPage } from '@/app/_server/breakdowns-on-page';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { listBreakdowns } from '@/lib/data/breakdowns.read';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type LessonId } from '@/lib/domain/shared/ids';
import { systemClock } from '@/lib/platform/clock';

/** The breakdowns of a lesson; the bench asks again while one is being put together. */
export const GET = (_request: Request, { params }: { params: Promise<{ lessonId: string }> }) =>
  answer('breakdowns.read', async () => {
    const id = anId<LessonId>().safeParse((await params).lessonId);
    if (!id.success) throw notFound('lesson');
    const viewer = await viewerOrRefuse();
    const now = systemClock.now();
    return { breakdowns: breakdownsOnPage(viewer, await listBreakdowns(viewer, id.data, now), now) };
  });
