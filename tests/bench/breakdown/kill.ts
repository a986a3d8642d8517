import { rm } from 'node:fs/promises';
import type { Page } from 'playwright';
import { startBrowser } from '../upload/browser';
import type { Task } from '../frames/measure';
import type { BreakdownPage } from './page';

declare global {
  interface Window {
    breakdownBench: BreakdownPage;
  }
}

export interface KillReading {
  /** How far the take was, a moment before the kill. */
  readonly reachedMs: number;
  readonly voiceLostMs: number;
  /** Changes of the shown frame that the page had seen and that are not in what was left. */
  readonly eventsLost: number;
}

/** Opens the page of the benchmark on a tab. */
export const openTab = async (page: Page, url: string, task: Task): Promise<void> => {
  page.on('pageerror', (error) => console.error(`page: ${error.message}`));
  await page.goto(url);
  await page.waitForFunction(() => 'breakdownBench' in window);
  await page.evaluate((given) => window.breakdownBench.open(given), task);
};

/**
 * Records in a browser on a profile of its own, kills all of it with SIGKILL once the take is `atMs` long, opens it
 * again, and compares what is offered with what was reached.
 */
export const killTrial = async (
  profile: string,
  url: string,
  task: Task,
  atMs: number,
): Promise<KillReading> => {
  const first = await startBrowser(profile);
  const page = await first.newPage();
  await openTab(page, url, task);
  await page.evaluate(() => window.breakdownBench.recordOn());
  await page.waitForFunction((wanted) => window.breakdownBench.reached().ms >= wanted, atMs, { polling: 20 });
  const reached = await page.evaluate(() => window.breakdownBench.reached());
  await first.kill();
  const second = await startBrowser(profile);
  try {
    const again = await second.newPage();
    await openTab(again, url, task);
    const left = await again.evaluate(() => window.breakdownBench.left());
    return {
      reachedMs: reached.ms,
      voiceLostMs: reached.ms - Math.min(left?.voiceMs ?? 0, left?.ms ?? 0),
      eventsLost: Math.max(0, reached.framesSeen - (left?.frameEvents ?? 0)),
    };
  } finally {
    await second.kill();
    await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
};
