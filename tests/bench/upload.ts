import { createHash, randomBytes, randomUUID } from 'node:crypto';
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright';
import { buildPage } from './upload/build-page';
import { startBrowser, type KillableBrowser } from './upload/browser';
import { ChaosProxy } from './upload/chaos-proxy';
import type { BenchPage } from './upload/page';

// Clips sent by the program's own queue in a real browser to the program's own upload handlers, while connections
// are cut, bytes are swallowed, server and browser are killed with SIGKILL. Then the same bytes through the SDK and
// as a bare PUT. The handlers run in a plain Node process: what is measured is the upload, not the pages around it.

declare global {
  interface Window {
    bench: BenchPage;
  }
}

const MISHAPS = ['cut', 'swallow', 'kill-server', 'kill-browser'] as const;
type Mishap = (typeof MISHAPS)[number];

const ROUNDS = 8;
const CLIP_BYTES = 3_000_000;
/** The uplink of a phone at a field: 12 Mbit/s. What a killed server had not read yet is sent again, so it matters. */
const BYTES_PER_SECOND = 1_500_000;
const BIG_BYTES = 200_000_000;
const REPEATS = 7;
/** A clip that is not there after so long counts as lost. */
const PATIENTLY = { timeout: 120_000, polling: 20 };
/** Shorter than a phone's, so that a swallowed try is given up within the bench's time. */
const PATIENCE = { stallMs: 2000, answerMs: 10_000, firstWaitMs: 200, longestWaitMs: 1000 };

const say = (text: string) => console.error(text);
const quantile = (values: number[], q: number) =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.ceil(q * values.length) - 1)] ?? 0;
const median = (values: number[]) => quantile(values, 0.5);
const md5 = (bytes: Uint8Array) => createHash('md5').update(bytes).digest('hex');

/** Random bytes behind the first box of a MOV. */
const movie = (size: number) => {
  const bytes = randomBytes(size);
  bytes.set(Buffer.from('\0\0\0\x14ftypqt  \x20\x05\x03\0qt  ', 'latin1'), 0);
  return bytes;
};

const folder = await mkdtemp(path.join(os.tmpdir(), 'bench-upload-'));
const data = path.join(folder, 'data');
const pages = path.join(folder, 'pages');
await buildPage(pages);

let server: ChildProcess;
let port = 0;
const startServer = async () => {
  const script = path.join(import.meta.dirname, 'upload/server.ts');
  server = spawn(process.execPath, ['--import', 'tsx', script, data, String(port), pages], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const [said] = (await once(server.stdout as NodeJS.ReadableStream, 'data')) as [Buffer];
  const origin = said.toString().trim();
  port = Number(new URL(origin).port);
  return origin;
};
const killServer = async () => {
  server.kill('SIGKILL');
  await once(server, 'exit');
};

const origin = await startServer();
let browser: KillableBrowser = await startBrowser(path.join(folder, 'profile'));
const open = async (at: string): Promise<Page> => {
  const page = await browser.newPage();
  await page.goto(at);
  await page.waitForFunction(() => 'bench' in window);
  return page;
};
const proxy = new ChaosProxy(port, BYTES_PER_SECOND);
const shaky = await proxy.listen();

const happen = async (mishap: Mishap, page: Page): Promise<Page> => {
  if (mishap === 'cut') proxy.cut();
  if (mishap === 'swallow') {
    proxy.swallow();
    await page.waitForFunction((id) => window.bench.entry(id)?.state === 'retrying', clipId, PATIENTLY);
    proxy.heal();
  }
  if (mishap === 'kill-server') {
    await killServer();
    await startServer();
  }
  if (mishap !== 'kill-browser') return page;
  await browser.kill();
  browser = await startBrowser(path.join(folder, 'profile'));
  const next = await open(shaky);
  if ((await next.evaluate((patience) => window.bench.begin(patience), PATIENCE)) !== 1)
    throw new Error('The killed browser did not find its clip again');
  return next;
};

const resent: number[] = [];
let lost = 0;
let corrupt = 0;
let clipId = '';
for (let round = 0; round < ROUNDS; round++) {
  for (const mishap of MISHAPS) {
    clipId = randomUUID();
    const bytes = movie(CLIP_BYTES);
    await writeFile(path.join(pages, `${clipId}.mov`), bytes);
    let page = await open(shaky);
    await page.evaluate((patience) => window.bench.begin(patience), PATIENCE);
    // Over the fast way: the file lies on the phone already.
    await page.evaluate(([url, id]) => window.bench.add(url, id), [`/${clipId}.mov`, clipId] as const);
    const before = proxy.sentBytes;
    try {
      // What a killed browser forgets is told apart from what it was still putting by.
      if (mishap === 'kill-browser')
        await page.waitForFunction((id) => window.bench.entry(id)?.safetyCopy === 'kept', clipId, PATIENTLY);
      const shares = mishap === 'cut' ? [0.15, 0.4, 0.7] : [0.1 + 0.8 * Math.random()];
      for (const share of shares) {
        const reached = { id: clipId, bytes: share * CLIP_BYTES };
        await page.waitForFunction(
          ({ id, bytes }) => (window.bench.entry(id)?.sentBytes ?? 0) >= bytes,
          reached,
          PATIENTLY,
        );
        page = await happen(mishap, page);
      }
      await page.waitForFunction((id) => window.bench.entry(id)?.state === 'stored', clipId, PATIENTLY);
      const kept = await readFile(path.join(data, 'storage/clips', clipId, 'original.mov'));
      if (md5(kept) !== md5(bytes)) corrupt++;
      resent.push(Math.max(0, proxy.sentBytes - before - CLIP_BYTES));
      say(`${resent.length} ${mishap}: ${resent.at(-1)} bytes more than the file`);
    } catch (error) {
      lost++;
      say(`${mishap}: lost (${String(error)})`);
    }
    await page.close();
    await rm(path.join(pages, `${clipId}.mov`));
    await rm(path.join(data, 'storage'), { recursive: true, force: true });
  }
}
await proxy.close();

await writeFile(path.join(pages, 'big.mov'), movie(BIG_BYTES));
const page = await open(origin);
const raw: number[] = [];
const sdk: number[] = [];
await page.evaluate(() => window.bench.rawPut('/big.mov', '/raw/warm-up'));
for (let repeat = 0; repeat < REPEATS; repeat++) {
  raw.push(await page.evaluate((n) => window.bench.rawPut('/big.mov', `/raw/${n}`), repeat));
  sdk.push(await page.evaluate((id) => window.bench.sdkPut('/big.mov', id), randomUUID()));
  await rm(data, { recursive: true, force: true });
  say(`raw ${Math.round(raw.at(-1) ?? 0)} ms, SDK ${Math.round(sdk.at(-1) ?? 0)} ms`);
}
const ratios = raw.map((one, index) => (sdk[index] ?? 0) / one);
say(`pairwise ratios: ${ratios.map((ratio) => ratio.toFixed(2)).join(' ')}`);

await browser.kill();
await killServer();
await rm(folder, { recursive: true, force: true });
console.log(
  JSON.stringify({
    trials: ROUNDS * MISHAPS.length,
    lost,
    corrupt,
    resentBytesP95: quantile(resent, 0.95),
    timeOverRawPut: Number((median(sdk) / median(raw)).toFixed(2)),
  }),
);
