import { answer } from '@/app/_server/api';
import { breakdownIn, type BreakdownContext } from '@/app/_server/breakdown-in';
import { breakdownsOnPage } from '@/app/_server/breakdowns-on-page';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { systemClock } from '@/lib/platform/clock';

/** How far a breakdown is, with fresh addresses of its files: for a bench that waits and a page that stood open long. */
export const GET = (_request: Request, context: BreakdownContext) =>
  answer('breakdown.read', async () => {
    const viewer = await viewerOrRefuse();
    const breakdown = await breakdownIn(viewer, context);
    return breakdownsOnPage(viewer, [breakdown], systemClock.now())[0];
  });
