import { Readable } from 'node:stream';
import { answer } from '@/app/_server/api';
import { ports } from '@/app/_server/ports';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { spend } from '@/lib/data/rate-limit';
import { notFound } from '@/lib/domain/shared/errors';
import { anId } from '@/lib/domain/shared/ids';
import { openCopy } from '@/lib/workflows/open-copy';

type Props = { params: Promise<{ copyId: string }> };

/** A part of a file with everything about somebody (`?part=1`), for whoever asked for it, until it expires. */
export async function GET(request: Request, { params }: Props): Promise<Response> {
  return answer('copy.open', async () => {
    const viewer = await viewerOrRefuse();
    await spend('document.open', viewer.personId);
    const id = anId<string>().safeParse((await params).copyId);
    const part = Number(new URL(request.url).searchParams.get('part') ?? '1');
    if (!id.success || !Number.isInteger(part)) throw notFound('file');
    const { name, bytes, body } = await openCopy(ports, viewer, id.data, part);
    return new Response(Readable.toWeb(body) as ReadableStream<Uint8Array>, {
      headers: {
        'content-type': 'application/zip',
        'content-length': String(bytes),
        // RFC 6266: the plain name for old readers, the other one for names of all scripts.
        'content-disposition': `attachment; filename="everything-${part}.zip"; filename*=UTF-8''${encodeURIComponent(name)}`,
        'cache-control': 'private, no-store',
      },
    });
  });
}
