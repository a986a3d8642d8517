import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import path from 'node:path';
import { createViteServer } from 'vitest/node';

async function serveClip(folder: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const file = path.join(folder, path.normalize(new URL(request.url ?? '/', 'http://localhost').pathname));
  const { size } = await stat(file);
  const [, from = '0', to] = /^bytes=(\d+)-(\d*)$/.exec(request.headers.range ?? '') ?? [];
  const start = Number(from);
  const end = to ? Math.min(Number(to), size - 1) : size - 1;
  response.writeHead(request.headers.range ? 206 : 200, {
    'Content-Type': 'video/mp4',
    'Content-Length': end - start + 1,
    'Accept-Ranges': 'bytes',
    ...(request.headers.range ? { 'Content-Range': `bytes ${start}-${end}/${size}` } : {}),
  });
  createReadStream(file, { start, end }).pipe(response);
}

/** Serves a page that measures, with the engine as the browser gets it, and the clips of the folder. */
export async function serveBench(folder: string, page = 'tests/bench/frames/page.html') {
  const root = path.resolve(import.meta.dirname, '../../..');
  const server = await createViteServer({
    root,
    configFile: false,
    logLevel: 'error',
    cacheDir: path.join(folder, 'cache'),
    resolve: { alias: { '@': root } },
    server: { host: '127.0.0.1', port: 0, watch: null, hmr: false },
    optimizeDeps: { entries: [page] },
    plugins: [
      {
        name: 'bench-clips',
        configureServer({ middlewares }) {
          middlewares.use('/clips', (request, response) => {
            serveClip(folder, request, response).catch(() => response.writeHead(404).end());
          });
        },
      },
    ],
  });
  await server.listen();
  const address = server.httpServer?.address();
  if (!address || typeof address === 'string') throw new Error('The page has no address.');
  return {
    url: `http://127.0.0.1:${address.port}/${page}`,
    close: () => server.close(),
  };
}
