import { createReadStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';

// Plain JavaScript, because vitest.config.ts imports it before anything can compile it.

/**
 * A Vite plugin that serves the clips of `clip-recipes.ts` from the origin of the test page, made when first asked
 * for: `/test-clips/NAME.mp4` with range requests and `/test-clips/NAME.json` (what is shown in it). `?key=old`
 * stands for a signed address that has run out.
 * @returns {import('vite').Plugin}
 */
export function clipServer() {
  let folder = null;
  const made = new Map();

  return {
    name: 'test-clips',
    configureServer(server) {
      const make = async (recipe, name) => {
        folder ??= await mkdtemp(path.join(tmpdir(), 'test-clips-'));
        const { makeClip } = await server.ssrLoadModule('/tests/support/media/make-clip.ts');
        return makeClip({ ...recipe, path: path.join(folder, `${name}.mp4`) });
      };
      const answer = async (request, response) => {
        const { CLIP_RECIPES } = await server.ssrLoadModule('/tests/browser/player/clip-recipes.ts');
        const url = new URL(request.url, 'http://localhost');
        const [, name = '', ending] = /^\/(\w+)\.(mp4|json)$/.exec(url.pathname) ?? [];
        const recipe = CLIP_RECIPES[name];
        if (!recipe || url.searchParams.get('key') === 'old')
          return response.writeHead(recipe ? 403 : 404).end();
        if (!made.has(name)) made.set(name, make(recipe, name));
        const clip = await made.get(name);
        if (ending === 'json') {
          response.setHeader('Content-Type', 'application/json');
          return response.end(JSON.stringify({ ...clip, ...recipe }));
        }
        return sendFile(clip.path, request.headers.range, response);
      };
      server.middlewares.use('/test-clips', (request, response) => {
        answer(request, response).catch((error) => response.writeHead(500).end(String(error)));
      });
      server.httpServer?.on('close', () => {
        if (folder) void rm(folder, { recursive: true, force: true });
      });
    },
  };
}

async function sendFile(file, range, response) {
  const { size } = await stat(file);
  const [, from = '0', to] = /^bytes=(\d+)-(\d*)$/.exec(range ?? '') ?? [];
  const start = Number(from);
  const end = to ? Math.min(Number(to), size - 1) : size - 1;
  response.writeHead(range ? 206 : 200, {
    'Content-Type': 'video/mp4',
    'Content-Length': end - start + 1,
    'Accept-Ranges': 'bytes',
    ...(range ? { 'Content-Range': `bytes ${start}-${end}/${size}` } : {}),
  });
  const stream = createReadStream(file, { start, end });
  stream.on('error', () => response.destroy());
  response.on('close', () => stream.destroy());
  stream.pipe(response);
}
