import { answer } from '@/app/_server/api';
import { frameTables } from '@/app/_server/frame-tables';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { recordsOfLesson } from '@/app/lessons/_measure/measured';
import { readLesson } from '@/lib/data/lessons.read';
import { readSheet } from '@/lib/data/reviews.read';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type LessonId } from '@/lib/domain/shared/ids';

type Context = { params: Promise<{ lessonId: string }> };

/**
 * The open record of a lesson: corners and points of each measured clip, as `npm run measure` reads them. For the
 * player's side as it was returned; staff who still review it get what stands on the sheet.
 */
export const GET = (_request: Request, { params }: Context) =>
  answer('measures.read', async () => {
    const id = anId<LessonId>().safeParse((await params).lessonId);
    const viewer = await viewerOrRefuse();
    const lesson = id.success ? await readLesson(viewer, id.data) : null;
    if (!lesson) throw notFound('lesson');
    const isUnderReview = lesson.state === 'submitted' || lesson.state === 'in_review';
    const sheet =
      (isUnderReview ? (await readSheet(viewer, lesson.id))?.sheet : null) ?? lesson.returned?.sheet;
    if (!sheet) throw notFound('lesson');
    const ready = lesson.clips.filter((clip) => clip.state === 'ready');
    const tables = await frameTables(ready);
    return Response.json(recordsOfLesson(sheet, ready, Object.fromEntries(tables), lesson.bats), {
      headers: {
        'cache-control': 'private, no-store',
        'content-disposition': `attachment; filename="lesson-${lesson.number}-points.json"`,
      },
    });
  });
