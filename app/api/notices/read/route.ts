import * as z from 'zod';
import { answer, readJson } from '@/app/_server/api';
import { ports } from '@/app/_server/ports';
import { assertSameOrigin } from '@/app/_server/same-origin';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import { CagepostError } from '@/lib/domain/shared/errors';
import { anId, type NoticeId } from '@/lib/domain/shared/ids';
import { readNotices } from '@/lib/workflows/read-notices';

const bodySchema = z.object({ id: anId<NoticeId>() });

/** Notes that a notice was opened. Sent while the page is left for where the notice leads, so it is no action. */
export const POST = (request: Request) =>
  answer('notices.read', async () => {
    assertSameOrigin(request.headers);
    const viewer = await viewerOrRefuse();
    await spend('notices.write', viewer.personId);
    const body = bodySchema.safeParse(await readJson(request, 200)).data;
    if (!body) throw new CagepostError('invalid', 'What arrived is not the id of a notice.');
    await readNotices(ports, viewer, body);
    return {};
  });
