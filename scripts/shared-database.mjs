// A database of somebody's own, on which several processes may run, on one machine or on many. They take turns to
// migrate it, and agree on the settings that all of them have to share.
import { existsSync, readdirSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { connect, migrate, seedDemo, wantsDemo } from './database.mjs';
import { agreeOnSettings } from './shared-settings.mjs';
import { inRoot, say, Trouble } from './steps.mjs';

// Advisory locks of PostgreSQL, by two numbers of ours. They end with the connection, also when we are killed.
const GATE = '20261126, 1';
const PRESENCE = '20261126, 2';

const [NO_SUCH_DATABASE, DUPLICATE_DATABASE, UNIQUE_VIOLATION] = ['3D000', '42P04', '23505'];

async function createDatabase(url) {
  const name = decodeURIComponent(new URL(url).pathname.slice(1));
  const elsewhere = Object.assign(new URL(url), { pathname: '/postgres' });
  const admin = await connect(elsewhere.href);
  try {
    await admin.query(`CREATE DATABASE "${name.replaceAll('"', '""')}"`);
  } catch (error) {
    // Another process was faster.
    if (![DUPLICATE_DATABASE, UNIQUE_VIOLATION].includes(error.code)) throw error;
  } finally {
    await admin.end();
  }
}

async function reach(url) {
  try {
    try {
      return await connect(url);
    } catch (error) {
      if (error.code !== NO_SUCH_DATABASE) throw error;
      await createDatabase(url);
      return await connect(url);
    }
  } catch (error) {
    throw new Trouble(`The database of DATABASE_URL does not answer: ${error.message || error.code}.`);
  }
}

const tryLock = async (client, lock) =>
  (await client.query(`SELECT pg_try_advisory_lock(${lock}) AS taken`)).rows[0].taken;

/** Runs the work while no other process of this database is between its start and its readiness. */
async function oneAtATime(client, isGoingOn, work) {
  if (!(await tryLock(client, GATE))) {
    say('database: another process is bringing it up to date: waiting for it');
    do {
      await pause(200);
      if (!isGoingOn()) throw new Trouble('Ended before it was done.');
    } while (!(await tryLock(client, GATE)));
  }
  try {
    return await work();
  } finally {
    await client.query(`SELECT pg_advisory_unlock(${GATE})`);
  }
}

async function appliedMigrations(client) {
  const { rows } = await client.query("SELECT to_regclass('_prisma_migrations') AS found");
  if (rows[0].found === null) return [];
  const applied = await client.query(
    'SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL',
  );
  return applied.rows.map((row) => row.migration_name);
}

const ownMigrations = () =>
  readdirSync(inRoot('prisma/migrations')).filter((name) =>
    existsSync(inRoot('prisma/migrations', name, 'migration.sql')),
  );

/**
 * Applies what this version has and the database has not. While machines are renewed one after the other, one of the
 * older version may start again on a database that a newer one has changed: it goes on, because every migration keeps
 * what the version before it uses.
 */
async function migrateWhatIsMissing(client, env) {
  const applied = await appliedMigrations(client);
  const own = ownMigrations();
  const missing = own.filter((name) => !applied.includes(name));
  const newer = applied.filter((name) => !own.includes(name));
  if (newer.length > 0 && missing.length > 0) {
    throw new Trouble(
      `The database has changes that this version does not know (${newer[0]}) and misses some that it needs (${missing[0]}). Nothing was changed. Start the newest version first.`,
    );
  }
  if (newer.length > 0)
    say('database: a newer version has already changed it; this one goes on with what it knows');
  else if (missing.length === 0) say('database: nothing to migrate');
  else {
    say(`database: migrating (${missing.length} of ${own.length} to apply)`);
    await migrate(env);
  }
}

/** Says that we are there for as long as we are, also after the database was restarted. */
async function stayPresent(url, client) {
  let current = client;
  let isOver = false;
  const lost = () => {
    if (!isOver) void again();
  };
  const hold = async () => {
    current
      .removeAllListeners('error')
      .on('error', () => {})
      .once('end', lost);
    await current.query(`SELECT pg_advisory_lock_shared(${PRESENCE})`);
  };
  const again = async () => {
    while (!isOver) {
      try {
        current = await connect(url);
        return await hold();
      } catch {
        await pause(1000, undefined, { ref: false });
      }
    }
  };
  await hold();
  return async () => {
    isOver = true;
    await current.end().catch(() => {});
  };
}

/**
 * A database of somebody's own: reached (made when it is not there), migrated, agreed with on the settings; the demo
 * only if it is asked for and nothing is in there.
 * @param {() => boolean} isGoingOn whether to go on waiting for others
 * @returns its address and `stop()`, which gives up our place
 */
export async function openShared(url, env, isGoingOn) {
  const client = await reach(url);
  client.on('error', () => {}); // told by the next query
  const full = { ...env, DATABASE_URL: url };
  const leave = await oneAtATime(client, isGoingOn, async () => {
    await migrateWhatIsMissing(client, full);
    await agreeOnSettings(client, env, async () => {
      if (!(await tryLock(client, PRESENCE))) return false;
      await client.query(`SELECT pg_advisory_unlock(${PRESENCE})`);
      return true;
    });
    if (wantsDemo(env, false)) await seedDemo(full, '--if-empty');
    return stayPresent(url, client);
  }).catch(async (error) => {
    await client.end().catch(() => {});
    throw error;
  });
  return { url, pid: null, stop: leave };
}
