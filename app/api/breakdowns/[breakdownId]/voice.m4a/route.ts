import { answer } from '@/app/_server/api';
import { breakdownIn, type BreakdownContext } from '@/app/_server/breakdown-in';
import { breakdownUrl, standingTake } from '@/app/_server/breakdown-url';
import { ports } from '@/app/_server/ports';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import { breakdownFolder, soundFile } from '@/lib/domain/breakdowns/files';
import { notFound } from '@/lib/domain/shared/errors';

/**
 * The voice as AAC, for who may export: browsers without an encoder for it copy it into their file. Sends on to the
 * file, or answers 202 with `Retry-After` while the worker makes it.
 */
export const GET = (_request: Request, context: BreakdownContext) =>
  answer('breakdown.sound', async () => {
    const viewer = await viewerOrRefuse();
    const breakdown = await breakdownIn(viewer, context);
    if (!breakdown.mayExport || breakdown.voiceFile === null) throw notFound('file');
    await spend('clip.play', viewer.personId);
    const file = soundFile(standingTake(breakdown));
    const headers = { 'cache-control': 'private, no-store' };
    if ((await ports.storage.size(`${breakdownFolder(breakdown.id)}/${file}`)) !== null) {
      const location = breakdownUrl(viewer, breakdown.id, file, ports.clock.now());
      return new Response(null, { status: 307, headers: { ...headers, location } });
    }
    await ports.queue.workOnBreakdown({ kind: 'sound', breakdownId: breakdown.id });
    return Response.json({ isBeingMade: true }, { status: 202, headers: { ...headers, 'retry-after': '2' } });
  });
