import type { IncomingMessage, ServerResponse } from 'node:http';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Log, Storage } from '@/lib/workflows/ports';
import { readByteRange } from './byte-range';
import type { PersonOf } from './claims';
import { readMediaUrl, type MediaAddress, type MediaFolder } from './media-url';
import { requestOf, sendJson } from './node-http';
import { toldRefusal } from './refusal';

const TYPES: Record<string, string> = {
  '.mp4': 'video/mp4',
  '.mov': 'video/quicktime',
  '.webm': 'video/webm',
  '.mkv': 'video/x-matroska',
  '.m4a': 'audio/mp4',
  '.jpg': 'image/jpeg',
  '.json': 'application/json',
};

export interface MediaSettings {
  /** The key that `signMediaUrl` signs with. */
  key: string;
  storage: Storage;
  personOf: PersonOf;
  /** May the person who sends this request read that file? Asked at every request. */
  mayRead: Record<MediaFolder, (request: Request, address: MediaAddress) => Promise<boolean>>;
  log: Log;
  now?: () => Date;
}

const typeOf = (key: string) => {
  const type = TYPES[path.extname(key)] ?? 'application/octet-stream';
  return key.startsWith('breakdowns/') && type === 'video/webm' ? 'audio/webm' : type;
};

const admitted = async (settings: MediaSettings, request: IncomingMessage) => {
  const address = readMediaUrl(settings.key, request.url ?? '', (settings.now ?? (() => new Date()))());
  if (!address) throw notFound('file');
  const session = requestOf(request);
  const personId = await settings.personOf(session);
  if (personId === null) throw new CagepostError('not-signed-in', 'Please sign in again to see this.');
  if (personId !== address.personId) throw notFound('file');
  if (!(await settings.mayRead[address.folder](session, address))) throw notFound('file');
  return `${address.folder}/${address.id}/${address.file}`;
};

const serve = async (settings: MediaSettings, request: IncomingMessage, response: ServerResponse) => {
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    sendJson(response, 405, { error: 'Only GET and HEAD.' }, { allow: 'GET, HEAD' });
    return;
  }
  const key = await admitted(settings, request);
  const size = await settings.storage.size(key);
  if (size === null) throw notFound('file');
  const headers = {
    'accept-ranges': 'bytes',
    'cache-control': 'private, no-store',
    'content-type': typeOf(key),
    'cross-origin-resource-policy': 'same-origin',
    'x-content-type-options': 'nosniff',
  };
  const range = readByteRange(request.headers.range, size);
  if (range === 'unsatisfiable') {
    response.writeHead(416, { ...headers, 'content-range': `bytes */${size}`, 'content-length': 0 }).end();
    return;
  }
  const length = range ? range.end - range.start + 1 : size;
  const place = range ? { 'content-range': `bytes ${range.start}-${range.end}/${size}` } : {};
  if (request.method === 'HEAD' || length === 0) {
    response.writeHead(range ? 206 : 200, { ...headers, ...place, 'content-length': length }).end();
    return;
  }
  const stream = await settings.storage.read(key, range ?? undefined);
  if (!stream) throw notFound('file');
  response.writeHead(range ? 206 : 200, { ...headers, ...place, 'content-length': length });
  await pipeline(stream, response);
};

/**
 * Answers `/api/media/<folder>/<id>/<file>` with one file: for the person it was signed for, while signed in and
 * allowed to see it. Ranges as in RFC 9110. Needs Node's own response: a player wants a Content-Length.
 */
export const serveMedia =
  (settings: MediaSettings) =>
  async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    try {
      await serve(settings, request, response);
    } catch (error) {
      // A player closes its connection at every seek.
      if (response.headersSent || response.destroyed) {
        response.destroy();
        return;
      }
      if (!(error instanceof CagepostError)) settings.log.error({ err: error }, 'media could not be read');
      const told = toldRefusal(error);
      sendJson(response, told.status, { error: told.message, fault: told.fault });
    }
  };
