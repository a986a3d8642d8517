// `npm start` and `npm run dev`: one process that starts the database, the worker and the server, and ends them.
import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { stripVTControlCharacters } from 'node:util';
import { isAlive } from './alive.mjs';
import { openEmbedded, openOwn } from './database.mjs';
import { takeLock } from './lock.mjs';
import { watchParents } from './parents.mjs';
import {
  abortSteps,
  alone,
  build,
  digestOf,
  END_WITH_PARENT,
  inRoot,
  mustRun,
  once,
  prepare,
  root,
  say,
  TOOLS,
  Trouble,
} from './steps.mjs';

const STOP_PATIENCE_MS = 12_000;

/** The settings, those of a `.env` file included; what is set outside wins over the file. */
function readSettings() {
  if (existsSync(inRoot('.env'))) process.loadEnvFile(inRoot('.env'));
  const dataDir = path.resolve(root, process.env.DATA_DIR || '.data');
  const port = process.env.PORT || '3000';
  const host = process.env.HOST || '127.0.0.1';
  const shown = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
  const address = `http://${shown.includes(':') ? `[${shown}]` : shown}:${port}`;
  return { dataDir, port, host, address, isEmbedded: !process.env.DATABASE_URL };
}

/** Takes the place of the one program of this data folder. A start that is just ending is given a moment. */
async function takePlace(dataDir) {
  mkdirSync(dataDir, { recursive: true });
  const file = path.join(dataDir, 'running.lock');
  const ending = path.join(dataDir, 'ending');
  const asked = Date.now();
  for (;;) {
    const lock = takeLock(file);
    if (lock.release) {
      rmSync(ending, { force: true });
      const release = () => {
        rmSync(ending, { force: true });
        lock.release();
      };
      return { release, tellEnding: () => writeFileSync(ending, '') };
    }
    const patience = existsSync(ending) ? 30_000 : 2_000;
    if (Date.now() - asked > patience) {
      throw new Trouble(
        `Cagepost is already running from this folder (process ${lock.holder}). Stop that one first, or start this one with another DATA_DIR and PORT.`,
      );
    }
    await pause(100);
  }
}

const isPortFree = ({ host, port }) =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', (error) => resolve(error.code !== 'EADDRINUSE'));
    probe.listen(Number(port), host, () => probe.close(() => resolve(true)));
  });

async function assertPortFree(settings) {
  const asked = Date.now();
  while (!(await isPortFree(settings))) {
    if (Date.now() - asked > 12_000) {
      throw new Trouble(`Port ${settings.port} is used by another program. Set PORT to a free one.`);
    }
    await pause(200); // the server of a start that was killed is about to notice
  }
}

/** Made at the first start and kept, readable by nobody else: sessions outlive a restart. */
function keptSecret(dataDir) {
  const file = path.join(dataDir, 'nextauth-secret');
  if (!existsSync(file)) {
    const fresh = `${file}.${process.pid}`;
    writeFileSync(fresh, randomBytes(32).toString('base64url'), { mode: 0o600 });
    renameSync(fresh, file);
  }
  return readFileSync(file, 'utf8');
}

function environmentOf(settings) {
  const { dataDir, port, host, address, isEmbedded } = settings;
  const ofEmbedded = isEmbedded
    ? {
        CAGEPOST_EMBEDDED: '1',
        NEXTAUTH_SECRET: process.env.NEXTAUTH_SECRET || keptSecret(dataDir),
        NEXTAUTH_URL: process.env.NEXTAUTH_URL || address,
      }
    : { CAGEPOST_EMBEDDED: '0' };
  return {
    ...process.env,
    NEXT_TELEMETRY_DISABLED: '1',
    TSX_TSCONFIG_PATH: inRoot('tsconfig.json'),
    ...{ DATA_DIR: dataDir, PORT: port, HOST: host, TZ: 'UTC' },
    ...ofEmbedded,
  };
}

const SETTINGS = /^(DATABASE|NEXTAUTH|SMTP|MAIL|UPLOADTHING|CAGEPOST|CLIP|LOG)_|^(PORT|HOST|DATA_DIR)$/;

/** The rules of the settings are TypeScript, and starting that takes a second: not again for the same settings. */
const checkSettings = (dataDir, env) =>
  once({
    name: 'settings',
    doing: 'checking',
    stamp: path.join(dataDir, 'settings-checked'),
    digest: digestOf(
      ['lib/platform/env.ts', 'package-lock.json'],
      Object.entries(env).filter(([name]) => SETTINGS.test(name)),
    ),
    isThere: () => true,
    work: () =>
      mustRun(
        'Checking the settings',
        process.execPath,
        ['--import', 'tsx', inRoot('scripts/check-env.ts')],
        {
          env,
        },
      ),
  });

const isAnswering = ({ host, port }) =>
  new Promise((resolve) => {
    const shown = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
    const socket = connect(Number(port), shown);
    socket.once('connect', () => resolve(true)).once('error', () => resolve(false));
    socket.once('close', () => socket.destroy()).once('connect', () => socket.end());
  });

/** The children of this program, and how they end. */
class Household {
  #children = new Map();
  #isEnding = false;

  /** Starts a Node program that ends with us, even if we are killed. */
  start(name, args, env, onExit) {
    const stdio = ['ignore', 'pipe', 'inherit', 'ipc'];
    const child = spawn(process.execPath, [...END_WITH_PARENT, ...args], {
      ...{ cwd: root, stdio },
      env: { ...env, CAGEPOST_PARENT: String(process.pid) },
    });
    this.#children.set(name, child);
    child.once('exit', (code, signal) => {
      this.#children.delete(name);
      if (!this.#isEnding) onExit(code ?? signal);
    });
    return child;
  }

  async end() {
    this.#isEnding = true;
    for (const child of this.#children.values()) child.kill('SIGTERM');
    const patience = Date.now() + STOP_PATIENCE_MS;
    while (this.#children.size > 0 && Date.now() < patience) await pause(50);
    for (const child of this.#children.values()) child.kill('SIGKILL');
    while (this.#children.size > 0) await pause(20);
  }

  get isEnding() {
    return this.#isEnding;
  }
}

const passOn = (child) => createInterface({ input: child.stdout }).on('line', (line) => console.log(line));

/** A worker that ends by itself is started again, after a growing pause. */
function keepWorker(household, env, fails = 0) {
  const begun = Date.now();
  const args = ['--import', 'tsx', inRoot('lib/worker/main.ts')];
  const worker = household.start('worker', args, env, async (how) => {
    const count = Date.now() - begun > 60_000 ? 0 : fails + 1;
    say(`worker: ended unexpectedly (${how}), starting it again`);
    await pause(Math.min(30_000, 500 * 2 ** count));
    if (!household.isEnding) keepWorker(household, env, count);
  });
  passOn(worker);
}

async function serve(mode, settings, env, household, { fail, isOver }) {
  const args = [TOOLS.next, mode === 'dev' ? 'dev' : 'start', '-H', settings.host, '-p', settings.port];
  const server = household.start('server', args, env, (how) =>
    fail(`The server ended unexpectedly (${how}).`),
  );
  const isBanner = (line) => mode === 'start' && /^\s*($|[▲✓○-])/u.test(stripVTControlCharacters(line)); // it names addresses of its own
  createInterface({ input: server.stdout }).on('line', (line) => isBanner(line) || console.log(line));
  // A server that dies before it answers ends the program: waiting on would keep the lock for ever.
  while (!isOver() && !(await isAnswering(settings))) await pause(50);
  if (!isOver()) console.log(`Cagepost is at ${settings.address} (Ctrl-C ends it)`);
}

/**
 * Runs the program until it is told to end.
 * @param {'start' | 'dev'} mode
 * @returns the exit code
 */
export async function runProgramUntilEnd(mode) {
  const settings = readSettings();
  const place = await takePlace(settings.dataDir);
  const household = new Household();
  let database;
  let failure = null;

  let endNow;
  const ended = new Promise((resolve) => (endNow = resolve));
  const end = (why) => {
    if (household.isEnding) return;
    failure ??= why;
    place.tellEnding();
    abortSteps();
    endNow();
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => end(null));
  watchParents(() => end(null));

  let isToldToEnd = false;
  ended.then(() => (isToldToEnd = true));
  const steps = async () => {
    await alone(prepare);
    const env = environmentOf(settings);
    await checkSettings(settings.dataDir, env);
    await assertPortFree(settings);
    if (isToldToEnd) return;
    database = settings.isEmbedded
      ? await openEmbedded(settings.dataDir, env)
      : await openOwn(process.env.DATABASE_URL, env);
    const full = { ...env, DATABASE_URL: database.url };
    if (isToldToEnd) return;
    if (mode === 'start') await alone(build);
    if (isToldToEnd) return;
    say('starting the worker and the server');
    keepWorker(household, full);
    await serve(mode, settings, full, household, { fail: end, isOver: () => isToldToEnd });
    if (database.pid) watchDatabase(database.pid, household, end);
    await ended;
  };
  try {
    await steps();
  } catch (error) {
    if (!isToldToEnd) throw error; // a step that we ended ourselves is no trouble
  } finally {
    if (!isToldToEnd) place.tellEnding();
    await household.end();
    await database?.stop();
    place.release();
  }
  if (failure) throw new Trouble(failure);
  say('everything is stopped');
  return 0;
}

function watchDatabase(pid, household, end) {
  const timer = setInterval(() => {
    if (household.isEnding) clearInterval(timer);
    else if (!isAlive(pid))
      end('The database ended unexpectedly; start again, nothing that was saved is lost.');
  }, 1000);
  timer.unref();
}
