import * as z from 'zod';
import { answer, readJson } from '@/app/_server/api';
import { ports } from '@/app/_server/ports';
import { assertSameOrigin } from '@/app/_server/same-origin';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import { checkInSchema } from '@/lib/domain/drills/practice';
import { CagepostError } from '@/lib/domain/shared/errors';
import { anId } from '@/lib/domain/shared/ids';
import { checkIn } from '@/lib/workflows/check-in';

const bodySchema = z.object({ id: z.uuid(), assignmentId: anId<AssignmentId>(), said: checkInSchema });

/** Takes a check-in. A phone sends it days later and across new versions of the site, so it is no action. */
export const POST = (request: Request) =>
  answer('practice.check-in', async () => {
    assertSameOrigin(request.headers);
    const viewer = await viewerOrRefuse();
    await spend('lesson.write', viewer.personId);
    const body = bodySchema.safeParse(await readJson(request, 4000));
    if (!body.success) {
      throw new CagepostError(
        'invalid',
        `${body.error.issues[0]?.message ?? 'Something does not fit.'} What you wrote is kept here.`,
      );
    }
    return checkIn(ports, viewer, body.data);
  });
