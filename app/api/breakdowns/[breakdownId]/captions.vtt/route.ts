import { answer } from '@/app/_server/api';
import { breakdownIn, type BreakdownContext } from '@/app/_server/breakdown-in';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { notFound } from '@/lib/domain/shared/errors';

/** The captions as a WebVTT file, whose media type and encoding the specification fixes (W3C WebVTT, section 9: text/vtt, UTF-8). */
export const GET = (_request: Request, context: BreakdownContext) =>
  answer('captions.read', async () => {
    const { captions } = await breakdownIn(await viewerOrRefuse(), context);
    if (captions.vtt === '') throw notFound('file of captions');
    return new Response(captions.vtt, {
      headers: {
        'content-type': 'text/vtt; charset=utf-8',
        'cache-control': 'private, no-store',
        'x-content-type-options': 'nosniff',
        'cross-origin-resource-policy': 'same-origin',
      },
    });
  });
