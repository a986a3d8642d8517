import { answer } from '@/app/_server/api';
import { pageFrame } from '@/app/_server/page-frame';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { listBook, type BookRow } from '@/lib/data/books.read';
import { spend } from '@/lib/data/rate-limit';
import { bookHead, bookLine } from '@/lib/domain/billing/book';
import { monthSpan } from '@/lib/domain/billing/months';
import { isLead } from '@/lib/domain/people/viewer';
import { toCsv } from '@/lib/domain/progress/csv';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';

const AT_ONCE = 500;

/** The ledger of some months as CSV, for leads: `?from=2026-01&to=2026-12`, both included, in the program's zone. */
export async function GET(request: Request): Promise<Response> {
  return answer('ledger.csv', async () => {
    const viewer = await viewerOrRefuse();
    if (!isLead(viewer)) throw notFound('page');
    await spend('document.open', viewer.personId);
    const { timeZone } = await pageFrame(viewer);
    const { searchParams } = new URL(request.url);
    const span = monthSpan(searchParams.get('from') ?? '', searchParams.get('to') ?? '', timeZone);
    if (!span) {
      throw new CagepostError('invalid', 'Say the months like 2026-01, the first not after the last.');
    }
    let after: BookRow | null = null;
    // A year of a large program does not fit into memory twice: page by page, as fast as it is taken.
    const body = new ReadableStream<Uint8Array>({
      start: (controller) => controller.enqueue(new TextEncoder().encode(toCsv([bookHead]))),
      async pull(controller) {
        const rows = await listBook(viewer, { ...span, after, take: AT_ONCE });
        if (rows.length > 0) controller.enqueue(new TextEncoder().encode(toCsv(rows.map(bookLine))));
        after = rows.at(-1) ?? null;
        if (rows.length < AT_ONCE) controller.close();
      },
    });
    return new Response(body, {
      headers: {
        'content-type': 'text/csv; charset=utf-8; header=present',
        'content-disposition': 'attachment; filename="ledger.csv"',
        'cache-control': 'private, no-store',
      },
    });
  });
}
