// `npm run web` and `npm run worker`: one half of the program each, as many of both as wanted, on one database.
import { assertPortFree, Household, keepWorker, serve } from './household.mjs';
import { watchParents } from './parents.mjs';
import { checkSettingsNow, environmentOf, readSettings } from './settings.mjs';
import { openShared } from './shared-database.mjs';
import { abortSteps, alone, build, prepare, say, Trouble } from './steps.mjs';

const DRAIN_MS = 10_000;
// Beyond the drain: what scripts/drain.mjs gives to answers that were begun, and what the worker gives to its jobs.
const STOP_PATIENCE_MS = 65_000;

function environment(settings) {
  return environmentOf(settings, {
    ...{ CAGEPOST_EMBEDDED: '0', CAGEPOST_APART: '1' },
    ...{ NEXT_MANUAL_SIG_HANDLE: '1', DRAIN_MS: process.env.DRAIN_MS || String(DRAIN_MS) },
  });
}

/**
 * Runs the web server or a worker until it is told to end.
 * @param {'web' | 'worker'} part
 * @returns the exit code
 */
export async function runApart(part) {
  const settings = readSettings();
  if (settings.isEmbedded) {
    throw new Trouble(
      `DATABASE_URL is not set: what runs apart meets in one PostgreSQL, so name it. "npm start" brings one along and runs everything together.`,
    );
  }
  const env = environment(settings);
  const household = new Household();
  let failure = null;
  let isToldToEnd = false;
  let endNow;
  const ended = new Promise((resolve) => (endNow = resolve));
  const end = (why) => {
    if (isToldToEnd) return;
    isToldToEnd = true;
    failure = why;
    abortSteps();
    endNow();
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => end(null));
  watchParents(() => end(null));

  let database;
  const steps = async () => {
    await alone(prepare);
    await checkSettingsNow(env);
    if (part === 'web') {
      await assertPortFree(settings);
      await alone(build);
    }
    database = await openShared(process.env.DATABASE_URL, env, () => !isToldToEnd);
    if (isToldToEnd) return;
    say(`starting the ${part === 'web' ? 'server' : 'worker'}`);
    if (part === 'web')
      await serve('web', settings, env, household, { fail: end, isOver: () => isToldToEnd });
    else keepWorker(household, env);
    await ended;
  };
  try {
    await steps();
  } catch (error) {
    if (!isToldToEnd) throw error; // a step that we ended ourselves is no trouble
  } finally {
    await household.end(Number(env.DRAIN_MS) + STOP_PATIENCE_MS);
    await database?.stop();
  }
  if (failure) throw new Trouble(failure);
  say(`the ${part === 'web' ? 'server' : 'worker'} has ended`);
  return 0;
}
