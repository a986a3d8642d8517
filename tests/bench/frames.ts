import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type Page } from 'playwright';
import { CHROMIUM_FLAGS, ensureChromium } from '../../scripts/chromium.mjs';
import type { Readings, Task } from './frames/measure';
import { prepareClips } from './frames/prepare';
import { serveBench } from './frames/serve';

// Are the frames exact, and how fast is a step? Phone-shaped clips are prepared as the product prepares them, then
// every frame is read back from the drawn picture in both engines, and paced steps are timed against the plainest
// use of a `<video>` element on the same file in the same run. The last line printed is one JSON object.

const say = (line: string) => console.log(line);

const quantile = (values: readonly number[], share: number) => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
};
const median = (values: readonly number[]) => quantile(values, 0.5);
const rounded = (value: number) => Math.round(value * 100) / 100;

const measureIn = (page: Page, task: Task, kind: 'webcodecs' | 'element' | 'plain') =>
  page.evaluate(({ task, kind }) => window.measure(task, kind), { task, kind });

async function main() {
  const folder = await mkdtemp(path.join(tmpdir(), 'bench-frames-'));
  const closing: (() => Promise<unknown>)[] = [() => rm(folder, { recursive: true, force: true })];
  try {
    const clips = await prepareClips(folder, say);
    const page = await openPage(folder, closing);
    const all: { ours: Readings; fallback: Readings; plain: Readings }[] = [];
    for (const clip of clips) {
      const ours = await measureIn(page, clip, 'webcodecs');
      const plain = await measureIn(page, clip, 'plain');
      const fallback = await measureIn(page, clip, 'element');
      all.push({ ours, fallback, plain });
      say(
        `${clip.name}: back p50 ${rounded(median(ours.back))} p95 ${rounded(quantile(ours.back, 0.95))} ms, ` +
          `element ${rounded(median(plain.back))} ms; ` +
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
  const server = await serveBench(folder);
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
