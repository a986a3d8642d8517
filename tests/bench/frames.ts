import { createReadStream } from 'node:fs';
import { mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type Page } from 'playwright';
import { createViteServer } from 'vitest/node';
import { frameTableSchema } from '@/lib/domain/clips/frame-table';
import { createMediaEngine } from '@/lib/platform/media/engine';
import { CHROMIUM_FLAGS, ensureChromium } from '../../scripts/chromium.mjs';
import { makeClip } from '../support/media/make-clip';
import type { Readings, Task } from './frames/measure';
import { phoneRecipes } from './frames/phone-clips';

// Are the frames exact, and how fast is a step? Phone-shaped clips are prepared as the product prepares them, then
// every frame is read back from the drawn picture in both engines, and paced steps are timed against the plainest
// use of a `<video>` element on the same file in the same run. The last line printed is one JSON object.

const say = (line: string) => console.log(line);

interface PreparedClip extends Task {
  name: string;
}

async function prepareClips(folder: string): Promise<PreparedClip[]> {
  const engine = createMediaEngine({ maxBytes: 2 ** 30, maxSeconds: 180, filesPerChild: 100 });
  const clips: PreparedClip[] = [];
  try {
    for (const recipe of phoneRecipes(folder)) {
      const made = await makeClip(recipe);
      const into = path.join(folder, recipe.name);
      const outcome = await engine.prepare({
        original: made.path,
        folder: into,
        declaredType: made.path.endsWith('.mov') ? 'video/quicktime' : 'video/mp4',
        knownRate: null,
      });
      if (!outcome.ok)
        throw new Error(`${recipe.name} was not prepared: ${outcome.fault}, ${outcome.detail}`);
      const table = frameTableSchema.parse(
        JSON.parse(await readFile(path.join(into, 'frames.json'), 'utf8')),
      );
      if (table.ptsUs.length !== made.shownFrames.length) throw new Error(`${recipe.name} lost frames.`);
      say(`prepared ${recipe.name}: ${table.width} by ${table.height}, ${table.ptsUs.length} frames`);
      clips.push({
        name: recipe.name,
        url: `/clips/${recipe.name}/review.mp4`,
        table,
        numbers: made.shownFrames,
      });
    }
  } finally {
    await engine.close();
  }
  return clips;
}

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

/** The page that measures, with the engine as the browser gets it. */
async function serve(folder: string) {
  const root = path.resolve(import.meta.dirname, '../..');
  const server = await createViteServer({
    root,
    configFile: false,
    logLevel: 'error',
    cacheDir: path.join(folder, 'cache'),
    resolve: { alias: { '@': root } },
    server: { host: '127.0.0.1', port: 0, watch: null, hmr: false },
    optimizeDeps: { entries: ['tests/bench/frames/page.html'] },
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
    url: `http://127.0.0.1:${address.port}/tests/bench/frames/page.html`,
    close: () => server.close(),
  };
}

const quantile = (values: readonly number[], share: number) => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
};
const median = (values: readonly number[]) => quantile(values, 0.5);
const rounded = (value: number) => Math.round(value * 100) / 100;

const measureIn = (page: Page, task: Task, kind: 'webcodecs' | 'element' | 'plain') =>
  page.evaluate(({ task, kind }) => window.measure(task, kind, kind !== 'plain'), { task, kind });

async function main() {
  const folder = await mkdtemp(path.join(tmpdir(), 'bench-frames-'));
  const closing: (() => Promise<unknown>)[] = [() => rm(folder, { recursive: true, force: true })];
  try {
    const clips = await prepareClips(folder);
    const page = await openPage(folder, closing);
    const all: { ours: Readings; fallback: Readings; plain: Readings }[] = [];
    for (const clip of clips) {
      const ours = await measureIn(page, clip, 'webcodecs');
      const plain = await measureIn(page, clip, 'plain');
      const fallback = await measureIn(page, clip, 'element');
      all.push({ ours, fallback, plain });
      say(
        `${clip.name}: back p50 ${rounded(median(ours.back))} p95 ${rounded(quantile(ours.back, 0.95))} ms, ` +
          `element ${rounded(median(plain.back))} ms (fallback ${rounded(median(fallback.back))}); ` +
          `forth ${rounded(median(ours.forth))} ms, element ${rounded(median(plain.forth))} ms; ` +
          `without pause back ${rounded(median(ours.burstBack))}, element ${rounded(median(plain.burstBack))} ms; ` +
          `wrong ${ours.wrong.length} and ${fallback.wrong.length} (element alone ${plain.wrong.length})`,
      );
      for (const wrong of [...ours.wrong, ...fallback.wrong].slice(0, 5)) say(`  wrong: ${wrong}`);
    }
    const ratios = (way: 'back' | 'forth' | 'burstBack') =>
      all.map(({ ours, plain }) => median(plain[way]) / median(ours[way]));
    const count = (of: (readings: (typeof all)[number]) => number) =>
      all.reduce((sum, one) => sum + of(one), 0);
    const backs = all.flatMap(({ ours }) => ours.back);
    say(
      `element over player, least and most of the clips: back ${rounded(Math.min(...ratios('back')))} to ` +
        `${rounded(Math.max(...ratios('back')))}, without pause ${rounded(Math.min(...ratios('burstBack')))} to ` +
        `${rounded(Math.max(...ratios('burstBack')))}`,
    );
    say(
      JSON.stringify({
        clips: all.length,
        framesRead: count(({ ours, fallback }) => ours.framesRead + fallback.framesRead),
        wrongFrames: count(({ ours }) => ours.wrong.length),
        fallbackWrongFrames: count(({ fallback }) => fallback.wrong.length),
        stepBackP95Ms: rounded(quantile(backs, 0.95)),
        stepBackSpeedup: rounded(median(ratios('back'))),
        stepForwardSpeedup: rounded(median(ratios('forth'))),
      }),
    );
  } finally {
    for (const close of closing.reverse()) await close();
  }
}

async function openPage(folder: string, closing: (() => Promise<unknown>)[]): Promise<Page> {
  const server = await serve(folder);
  closing.push(server.close);
  const browser = await chromium.launch({ executablePath: ensureChromium(say), args: [...CHROMIUM_FLAGS] });
  closing.push(() => browser.close());
  const page = await browser.newPage();
  page.on('pageerror', (error) => say(`page: ${error.message}`));
  await page.goto(server.url);
  await page.waitForFunction(() => 'measure' in window);
  return page;
}

await main();
