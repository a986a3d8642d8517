import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { chromium, type Browser, type Page } from 'playwright';
import { CHROMIUM_FLAGS, findChromium } from '@/scripts/chromium.mjs';

/** A browser on a profile that outlives it; started by us, so that it can be killed without a word. */
export interface KillableBrowser {
  /** The group of all its processes. */
  readonly group: number;
  newPage(): Promise<Page>;
  /** SIGKILL to the browser and every process of it. */
  kill(): Promise<void>;
}

const endpointOf = (child: ChildProcess): Promise<string> =>
  new Promise((resolve, reject) => {
    let said = '';
    child.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const found = /DevTools listening on (ws:\S+)/.exec(said);
      if (found?.[1]) resolve(found[1]);
    });
    child.once('exit', () => reject(new Error(`The browser did not start: ${said}`)));
  });

/** Starts a browser on that profile folder, with further flags if need be. */
export const startBrowser = async (
  profile: string,
  flags: readonly string[] = [],
): Promise<KillableBrowser> => {
  const child = spawn(
    findChromium() ?? 'chromium',
    [
      ...CHROMIUM_FLAGS,
      ...flags,
      '--headless',
      `--user-data-dir=${profile}`,
      '--remote-debugging-port=0',
      'about:blank',
    ],
    // A group of its own: a kill reaches its renderers too.
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const browser: Browser = await chromium.connectOverCDP(await endpointOf(child));
  return {
    group: child.pid ?? 0,
    async newPage() {
      const context = browser.contexts()[0] ?? (await browser.newContext());
      return context.newPage();
    },
    async kill() {
      const exited = child.exitCode === null ? once(child, 'exit') : Promise.resolve();
      if (child.pid) process.kill(-child.pid, 'SIGKILL');
      await exited;
      await browser.close().catch(() => {});
    },
  };
};
