import { createReadStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Plugin } from 'vite';
import type * as MakeClip from '../../support/media/make-clip';
import { CLIP_RECIPES, type ClipName } from './clip-recipes';

const isClipName = (name: string): name is ClipName => name in CLIP_RECIPES;

/**
 * Serves the clips of `clip-recipes.ts` from the origin of the test page: `/test-clips/NAME.mp4` with range
 * requests and `/test-clips/NAME.json` (what is shown in it). `?key=old` stands for a signed address that ran out.
 */
export function clipServer(): Plugin {
  let folder: string | null = null;
  const made = new Map<ClipName, Promise<MakeClip.MadeClip>>();

  return {
    name: 'test-clips',
    configureServer(server) {
      const make = async (name: ClipName) => {
        folder ??= await mkdtemp(path.join(tmpdir(), 'test-clips-'));
        const { makeClip } = (await server.ssrLoadModule('/tests/support/media/make-clip.ts')) as typeof MakeClip;
        return makeClip({ ...CLIP_RECIPES[name], path: path.join(folder, `${name}.mp4`) });
      };
      server.middlewares.use('/test-clips', (request, response) => {
        void answer(request, response, (name) => {
          const clip = made.get(name) ?? make(name);
          made.set(name, clip);
          return clip;
        }).catch((error: unknown) => {
          response.statusCode = 500;
          response.end(String(error));
        });
      });
      server.httpServer?.on('close', () => {
        if (folder) void rm(folder, { recursive: true, force: true });
      });
    },
  };
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  clipOf: (name: ClipName) => Promise<MakeClip.MadeClip>,
): Promise<void> {
  const url = new URL(request.url ?? '/', 'http://localhost');
  const [, name = '', ending] = /^\/(\w+)\.(mp4|json)$/.exec(url.pathname) ?? [];
  if (!isClipName(name) || url.searchParams.get('key') === 'old') {
    response.statusCode = isClipName(name) ? 403 : 404;
    response.end();
    return;
  }
  const clip = await clipOf(name);
  if (ending === 'json') {
    response.setHeader('Content-Type', 'application/json');
    response.end(JSON.stringify({ ...clip, ...CLIP_RECIPES[name] }));
    return;
  }
  const { size } = await stat(clip.path);
  const [, from = '0', to] = /^bytes=(\d+)-(\d*)$/.exec(request.headers.range ?? '') ?? [];
  const start = Number(from);
  const end = to ? Math.min(Number(to), size - 1) : size - 1;
  response.writeHead(request.headers.range ? 206 : 200, {
    'Content-Type': 'video/mp4',
    'Content-Length': end - start + 1,
    'Accept-Ranges': 'bytes',
    ...(request.headers.range ? { 'Content-Range': `bytes ${start}-${end}/${size}` } : {}),
  });
  createReadStream(clip.path, { start, end }).on('error', () => response.destroy()).pipe(response);
}
