import { createWriteStream } from 'node:fs';
import { mkdir, open } from 'node:fs/promises';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { chooseStorage } from '@/lib/platform/storage';
import { DEFAULT_LIMITS } from '@/lib/platform/uploads/claims';
import { createUploads } from '@/lib/platform/uploads/uploads';
import { FakeClaims, FakePartClaims, personOf } from '../../uploads/support/fake-claims';
import { serveUploads, type OtherPaths } from '../../uploads/support/http-rig';

// A process of its own, so that the bench can kill it. Arguments: data folder, port, page to serve.
const [dataFolder = '', port = '0', pageFolder = ''] = process.argv.slice(2);
const log = { info: () => {}, warn: () => {}, error: (...words: unknown[]) => console.error(...words) };
const chosen = chooseStorage({ dataFolder });
const uploads = createUploads(
  {
    dataFolder,
    secret: 's'.repeat(40),
    claims: new FakeClaims(),
    parts: new FakePartClaims(),
    personOf,
    limits: DEFAULT_LIMITS,
    log,
  },
  chosen,
);

const TYPES: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript', '.mp4': 'video/mp4' };

/** The raw streamed PUT to compare with: the body to a file, synced, nothing else. And the bench's page. */
const other: OtherPaths = async (request, response) => {
  const url = request.url ?? '/';
  if (request.method === 'PUT' && url.startsWith('/raw/')) {
    const file = path.join(dataFolder, path.basename(url));
    await mkdir(dataFolder, { recursive: true });
    await pipeline(request, createWriteStream(file));
    const handle = await open(file, 'r+');
    await handle.sync();
    await handle.close();
    response.writeHead(200).end('{}');
    return true;
  }
  if (request.method !== 'GET' || !pageFolder) return false;
  const file = await open(path.join(pageFolder, path.basename(url === '/' ? 'page.html' : url)), 'r');
  response.writeHead(200, { 'content-type': TYPES[path.extname(url)] ?? 'text/html' });
  await pipeline(file.createReadStream(), response);
  return true;
};

await uploads.sweep();
const { origin } = await serveUploads(uploads, { port: Number(port), other });
console.log(origin);
