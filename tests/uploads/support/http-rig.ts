import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Readable } from 'node:stream';
import type { Uploads } from '@/lib/platform/uploads/uploads';

/** A web Request of a Node one, as the framework makes it. */
const webRequest = (request: IncomingMessage, origin: string): Request =>
  new Request(new URL(request.url ?? '/', origin), {
    method: request.method,
    headers: Object.entries(request.headers).map(
      ([name, value]) => [name, String(value)] as [string, string],
    ),
    ...(request.method === 'POST' && { body: Readable.toWeb(request) as ReadableStream, duplex: 'half' }),
  });

const answer = async (response: ServerResponse, from: Response) => {
  response.writeHead(from.status, Object.fromEntries(from.headers));
  response.end(Buffer.from(await from.arrayBuffer()));
};

export type OtherPaths = (request: IncomingMessage, response: ServerResponse) => Promise<boolean>;

/** Serves the upload routes as the program does, over plain Node; `other` may answer more paths. */
export const serveUploads = async (
  uploads: Uploads,
  options: { port?: number; other?: OtherPaths } = {},
): Promise<{ server: Server; origin: string; close: () => Promise<void> }> => {
  const server = createServer((request, response) => {
    const serve = async () => {
      if (request.url?.startsWith('/api/uploadthing'))
        return answer(response, await uploads.handle(webRequest(request, origin)));
      if (request.url?.startsWith('/api/ingest/')) return uploads.ingest(request, response);
      if (await options.other?.(request, response)) return;
      response.writeHead(404).end();
    };
    serve().catch((error: unknown) => response.destroy(error as Error));
  });
  server.listen(options.port ?? 0, '127.0.0.1');
  await once(server, 'listening');
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    server,
    origin,
    close: async () => {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
};
