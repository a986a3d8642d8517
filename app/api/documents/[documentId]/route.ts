import { Readable } from 'node:stream';
import { answer } from '@/app/_server/api';
import { ports } from '@/app/_server/ports';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type DocumentId } from '@/lib/domain/shared/ids';
import { openDocument } from '@/lib/workflows/open-document';

type Props = { params: Promise<{ documentId: string }> };

/** An invoice, receipt or credit note as a PDF, for the payer's family and leads. */
export async function GET(_request: Request, { params }: Props): Promise<Response> {
  return answer('document.open', async () => {
    const viewer = await viewerOrRefuse();
    await spend('document.open', viewer.personId);
    const id = anId<DocumentId>().safeParse((await params).documentId);
    if (!id.success) throw notFound('document');
    const { name, bytes, body } = await openDocument(ports, viewer, id.data);
    return new Response(Readable.toWeb(body) as ReadableStream<Uint8Array>, {
      headers: {
        'content-type': 'application/pdf',
        'content-length': String(bytes),
        'content-disposition': `inline; filename="${name}"`,
        'cache-control': 'private, no-store',
      },
    });
  });
}
