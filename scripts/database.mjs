// Brings the embedded database to where the program can use it: running, migrated, with the demo in it when it is new.
import { randomBytes } from 'node:crypto';
import { closeSync, existsSync, openSync, readFileSync, readSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { startPostgres } from './embedded-postgres.mjs';
import { digestOf, inRoot, mustRun, say, TOOLS } from './steps.mjs';

const NAME = 'cagepost';
const FRESH = 'cagepost_new_';

/** Applies the migrations that the database does not have. */
export const migrate = (env) =>
  mustRun('Migrating the database', process.execPath, [TOOLS.prisma, 'migrate', 'deploy'], {
    env,
    isQuiet: true,
  });

/** Fills the invented academy in. */
export const seedDemo = (env, ...flags) =>
  mustRun('Filling in the demo', process.execPath, [TOOLS.tsx, inRoot('scripts/seed-demo.ts'), ...flags], {
    env,
  });

/** Whether the demo is asked for. */
export const wantsDemo = (env, byDefault) => (env.CAGEPOST_DEMO ? env.CAGEPOST_DEMO === '1' : byDefault);

// Tells one cluster from another: the first eight bytes of its control file are its identity.
function clusterOf(dataDir) {
  const bytes = Buffer.alloc(8);
  const file = openSync(path.join(dataDir, 'pg/global/pg_control'), 'r');
  try {
    readSync(file, bytes, 0, 8, 0);
  } finally {
    closeSync(file);
  }
  return bytes.toString('hex');
}

/** A connection to that database. */
export async function connect(url) {
  const { default: pg } = await import('pg');
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  return client;
}

const endSessions = (admin, database) =>
  admin.query('SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = $1', [database]);

// What killed starts have left. One of them may still be in the making; then it stays until the next time.
async function dropUnfinished(admin) {
  const { rows } = await admin.query("SELECT datname FROM pg_database WHERE datname ~ '^cagepost_new_'");
  for (const { datname } of rows) {
    await admin.query(`DROP DATABASE IF EXISTS ${datname} WITH (FORCE)`).catch(() => {});
  }
}

/**
 * A new database is made under another name and gets its own once it is complete, so that a start that is killed in
 * the middle leaves nothing half-filled: the next one begins anew.
 */
async function makeDatabase(server, env) {
  const admin = await connect(server.urlOf('postgres'));
  try {
    const found = await admin.query('SELECT 1 FROM pg_database WHERE datname = $1', [NAME]);
    if (found.rowCount > 0) return false;
    say('database: new, making its tables');
    await dropUnfinished(admin);
    const name = `${FRESH}${randomBytes(6).toString('hex')}`;
    await admin.query(`CREATE DATABASE ${name}`);
    const fresh = { ...env, DATABASE_URL: server.urlOf(name) };
    await migrate(fresh);
    if (wantsDemo(env, true)) {
      say('demo: filling in an invented academy (about a minute)');
      await seedDemo(fresh);
      say('demo: done');
    }
    await endSessions(admin, name);
    await admin.query(`ALTER DATABASE ${name} RENAME TO ${NAME}`);
    return true;
  } finally {
    await admin.end();
  }
}

async function migrateWhenChanged(server, dataDir, env) {
  const stamp = path.join(dataDir, 'migrated');
  const state = `${clusterOf(dataDir)} ${digestOf(['prisma/migrations'])}`;
  const isNew = await makeDatabase(server, env);
  const isDone = isNew || (existsSync(stamp) && readFileSync(stamp, 'utf8') === state);
  if (isDone) {
    say(`database: ${isNew ? 'tables made' : 'nothing changed'}`);
  } else {
    say('database: migrating');
    rmSync(stamp, { force: true });
    await migrate({ ...env, DATABASE_URL: server.urlOf(NAME) });
  }
  writeFileSync(stamp, state);
}

/** The embedded database: started, or taken over from a start that was killed; then migrated. */
export async function openEmbedded(dataDir, env) {
  say('database: starting');
  const server = await startPostgres(dataDir);
  try {
    await migrateWhenChanged(server, dataDir, env);
  } catch (error) {
    await server.stop();
    throw error;
  }
  return { url: server.urlOf(NAME), pid: server.pid, stop: server.stop };
}
