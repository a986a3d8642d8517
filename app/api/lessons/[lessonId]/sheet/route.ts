import * as z from 'zod';
import { answer, readJson } from '@/app/_server/api';
import { ports } from '@/app/_server/ports';
import { assertSameOrigin } from '@/app/_server/same-origin';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import { readSheet } from '@/lib/data/reviews.read';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import { anId, type LessonId } from '@/lib/domain/shared/ids';
import { saveSheet } from '@/lib/workflows/save-sheet';

type Context = { params: Promise<{ lessonId: string }> };
const MOST = 4 * 1024 * 1024;
const bodySchema = z.object({ baseRevision: z.int().nonnegative(), sheet: z.unknown() });

const lessonIn = async ({ params }: Context) => {
  const id = anId<LessonId>().safeParse((await params).lessonId);
  if (!id.success) throw notFound('lesson');
  return id.data;
};

/** The sheet as it is kept, with the revision that the next save must name. */
export const GET = (_request: Request, context: Context) =>
  answer('sheet.read', async () => {
    const kept = await readSheet(await viewerOrRefuse(), await lessonIn(context));
    if (!kept) throw notFound('lesson');
    return kept;
  });

/** Saves a sheet against the revision it was made from: 200 with the new one, or 409 with what stands there instead. */
export const PUT = (request: Request, context: Context) =>
  answer('sheet.save', async () => {
    assertSameOrigin(request.headers);
    const viewer = await viewerOrRefuse();
    await spend('review.write', viewer.personId);
    const body = bodySchema.safeParse(await readJson(request, MOST)).data;
    if (!body) throw new CagepostError('invalid', 'What arrived is not a sheet. It is kept on this device.');
    const outcome = await saveSheet(ports, viewer, {
      lessonId: await lessonIn(context),
      baseRevision: body.baseRevision,
      sheet: parseSheet(body.sheet),
    });
    if (outcome.kind === 'kept') return { revision: outcome.revision };
    const { sheet, revision, updatedAt, updatedBy } = outcome;
    return Response.json(
      {
        sheet,
        revision,
        byName: updatedBy?.name ?? 'Another coach',
        at: (updatedAt ?? new Date(0)).toISOString(),
      },
      { status: 409, headers: { 'cache-control': 'private, no-store' } },
    );
  });
