// Finds the browser that tests and benchmarks drive.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';

const SYSTEM = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** For a browser without a screen, a sandbox of its own or errands to run. */
export const CHROMIUM_FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // A microphone that beeps, and nobody to ask for it.
  '--use-fake-device-for-media-stream',
  '--use-fake-ui-for-media-stream',
];

function playwrightsOwn() {
  try {
    const file = createRequire(import.meta.url)('playwright').chromium.executablePath();
    return existsSync(file) ? file : undefined;
  } catch {
    return undefined;
  }
}

/** CHROMIUM_PATH, else a browser of the system, else Playwright's own; undefined when there is none. */
export function findChromium() {
  const named = process.env.CHROMIUM_PATH;
  if (named && !existsSync(named))
    throw new Error(`CHROMIUM_PATH names ${named}, and there is no such file.`);
  return named || SYSTEM.find((file) => existsSync(file)) || playwrightsOwn();
}

/** The same, but gets one when there is none: Playwright's download, or Debian's package when we are root. */
export function ensureChromium(say) {
  const found = findChromium();
  if (found) return found;
  say('no Chromium here: fetching one');
  const run = (program, args) => spawnSync(program, args, { stdio: 'inherit' }).status === 0;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    run('apt-get', ['update', '-qq']);
    run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium']);
  }
  if (!findChromium()) run('npx', ['playwright', 'install', '--with-deps', 'chromium']);
  const fetched = findChromium();
  if (!fetched) throw new Error('There is no Chromium and none could be fetched. Set CHROMIUM_PATH to one.');
  return fetched;
}
