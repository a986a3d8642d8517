// `npm start` and `npm run dev`: one process that starts the database, the worker and the server, and ends them.
import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { isAlive } from './alive.mjs';
import { openEmbedded } from './database.mjs';
import { assertPortFree, Household, keepWorker, serve } from './household.mjs';
import { takeLock } from './lock.mjs';
import { watchParents } from './parents.mjs';
import { checkSettings, environmentOf, readSettings } from './settings.mjs';
import { openShared } from './shared-database.mjs';
import { abortSteps, alone, build, prepare, say, Trouble } from './steps.mjs';

const STOP_PATIENCE_MS = 12_000;

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

const ofEmbedded = ({ dataDir, address, isEmbedded }) =>
  isEmbedded
    ? {
        CAGEPOST_EMBEDDED: '1',
        NEXTAUTH_SECRET: process.env.NEXTAUTH_SECRET || keptSecret(dataDir),
        NEXTAUTH_URL: process.env.NEXTAUTH_URL || address,
      }
    : { CAGEPOST_EMBEDDED: '0' };

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
    const env = environmentOf(settings, ofEmbedded(settings));
    await checkSettings(settings.dataDir, env);
    await assertPortFree(settings);
    if (isToldToEnd) return;
    database = settings.isEmbedded
      ? await openEmbedded(settings.dataDir, env)
      : await openShared(process.env.DATABASE_URL, env, () => !isToldToEnd);
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
    await household.end(STOP_PATIENCE_MS);
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
