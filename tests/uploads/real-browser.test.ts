import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { randomUUID } from 'node:crypto';
import type { Page } from 'playwright';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startBrowser, type KillableBrowser } from '../bench/upload/browser';
import { buildPage } from '../bench/upload/build-page';
import { ChaosProxy } from '../bench/upload/chaos-proxy';
import type { BenchPage } from '../bench/upload/page';
import { startHost, type HostRig } from './support/hosts';
import { serveUploads } from './support/http-rig';
import { movieBytes } from './support/sender';

declare global {
  interface Window {
    bench: BenchPage;
  }
}

// The program's own queue in a real Chromium, over a slowed network to real handlers.

let folder: string;
let rig: HostRig;
let site: Awaited<ReturnType<typeof serveUploads>>;
let proxy: ChaosProxy;
let origin: string;
let browser: KillableBrowser;
const TYPES: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript' };

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'browser-'));
  await buildPage(folder);
  rig = await startHost('embedded', { limits: { maxBytes: 100_000_000, reserveBytes: 0 } });
  site = await serveUploads(rig.uploads, {
    other: async (request, response) => {
      const name = path.basename(request.url === '/' ? 'page.html' : (request.url ?? ''));
      const bytes = await readFile(path.join(folder, name)).catch(() => null);
      if (!bytes) return false;
      response
        .writeHead(200, { 'content-type': TYPES[path.extname(name)] ?? 'application/octet-stream' })
        .end(bytes);
      return true;
    },
  });
  proxy = new ChaosProxy(Number(new URL(site.origin).port), 1_500_000);
  origin = await proxy.listen();
  browser = await startBrowser(path.join(folder, 'profile'));
}, 120_000);
afterAll(async () => {
  await browser.kill();
  await proxy.close();
  await site.close();
  await rig.close();
  await rm(folder, { recursive: true, force: true });
});

const begin = async (page: Page) => {
  await page.waitForFunction(() => 'bench' in window);
  return page.evaluate(() => window.bench.begin({ firstWaitMs: 100, longestWaitMs: 500 }));
};
const add = async (page: Page, bytes: Buffer) => {
  const clipId = randomUUID();
  await writeFile(path.join(folder, `${clipId}.mov`), bytes);
  await page.evaluate(([url, id]) => window.bench.add(url, id), [`/${clipId}.mov`, clipId] as const);
  return clipId;
};
const reaches = (page: Page, clipId: string, state: string) =>
  page.waitForFunction(([id, wanted]) => window.bench.entry(id)?.state === wanted, [clipId, state] as const);
const isUnderWay = (page: Page, clipId: string, bytes: number) =>
  page.waitForFunction(
    ([id, least]) => {
      const entry = window.bench.entry(id);
      return entry?.safetyCopy === 'kept' && entry.sentBytes > least;
    },
    [clipId, bytes] as const,
  );

test('neither a reload nor a killed browser asks for the file again', { timeout: 240_000 }, async () => {
  const bytes = movieBytes(3_000_000);
  let page = await browser.newPage();
  await page.goto(origin);
  await begin(page);
  const clipId = await add(page, bytes);
  await rm(path.join(folder, `${clipId}.mov`));
  await isUnderWay(page, clipId, 400_000);
  await page.reload();
  expect(await begin(page)).toBe(1);
  await isUnderWay(page, clipId, 1_200_000);
  await browser.kill();
  browser = await startBrowser(path.join(folder, 'profile'));
  page = await browser.newPage();
  await page.goto(origin);
  expect(await begin(page)).toBe(1);
  await reaches(page, clipId, 'stored');
  const kept = await readFile(path.join(rig.folder, 'storage/clips', clipId, 'original.mov'));
  expect(kept.equals(bytes)).toBe(true);
  await page.reload();
  expect(await begin(page)).toBe(0);
  await page.close();
});

test(
  'a refusal reaches the sender although most of the file is still to come',
  { timeout: 240_000 },
  async () => {
    const page = await browser.newPage();
    await page.goto(origin);
    await begin(page);
    const clipId = await add(page, Buffer.from('<!doctype html>'.padEnd(20_000_000)));
    await reaches(page, clipId, 'failed');
    const entry = await page.evaluate((id) => window.bench.entry(id), clipId);
    expect(entry).toMatchObject({ fault: 'not-a-video', canRetry: false });
    expect(entry?.sentence).toMatch(/not a video/);
    expect(await rig.storage.list(`clips/${clipId}`)).toEqual([]);
    await page.close();
  },
);
