import * as z from 'zod';
import { answer, readJson } from '@/app/_server/api';
import { breakdownIn, type BreakdownContext } from '@/app/_server/breakdown-in';
import { ports } from '@/app/_server/ports';
import { assertSameOrigin } from '@/app/_server/same-origin';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { readLesson } from '@/lib/data/lessons.read';
import { spend } from '@/lib/data/rate-limit';
import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import { CagepostError } from '@/lib/domain/shared/errors';
import { noteShown } from '@/lib/workflows/note-shown';
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
    const breakdown = await breakdownIn(viewer, context);
    await noteWatched(ports, viewer, { breakdownId: breakdown.id, ...body });
    const lesson = await readLesson(viewer, breakdown.lessonId);
    if (lesson) {
      await noteShown(ports, viewer, { playerId: lesson.player.id, what: 'breakdown', id: breakdown.id });
    }
    return {};
  });
