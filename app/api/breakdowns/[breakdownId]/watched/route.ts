import * as z from 'zod';
import { answer, readJson } from '@/app/_server/api';
import { breakdownIdIn, type BreakdownContext } from '@/app/_server/breakdown-in';
import { ports } from '@/app/_server/ports';
import { assertSameOrigin } from '@/app/_server/same-origin';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import { CagepostError } from '@/lib/domain/shared/errors';
import { noteWatched } from '@/lib/workflows/note-watched';

const bodySchema = z.object({ positionMs: z.number().min(0).max(MAX_BREAKDOWN_MS), isDone: z.boolean() });

/** Notes how far the viewer is. A page that is closed sends it as a beacon, so it is no action. */
export const POST = (request: Request, context: BreakdownContext) =>
  answer('breakdown.watched', async () => {
    assertSameOrigin(request.headers);
    const viewer = await viewerOrRefuse();
    await spend('clip.play', viewer.personId);
    const body = bodySchema.safeParse(await readJson(request, 1000)).data;
    if (!body) throw new CagepostError('invalid', 'What arrived is not a place in a breakdown.');
    await noteWatched(ports, viewer, { breakdownId: await breakdownIdIn(context), ...body });
    return {};
  });
