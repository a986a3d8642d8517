// One PostgreSQL server for all test runs of this folder, with a migrated template database that every test file
// gets a copy of. The server starts with the first run and ends with the last one.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { isAlive } from './alive.mjs';
import { startPostgres } from './embedded-postgres.mjs';
import { takeLock } from './lock.mjs';

const root = path.resolve(import.meta.dirname, '..');
const home = path.join(root, '.data/test');
const users = path.join(home, 'users');
const guard = path.join(home, 'guard');

// Tests throw their data away: no waiting for the disk.
const SETTINGS = {
  fsync: 'off',
  synchronous_commit: 'off',
  full_page_writes: 'off',
  max_connections: '300',
  autovacuum: 'off',
};

/** Runs the work while no other process of this folder starts or stops the server. */
async function alone(work) {
  mkdirSync(users, { recursive: true });
  let lock = takeLock(guard);
  while (!lock.release) {
    await pause(50);
    lock = takeLock(guard);
  }
  try {
    return await work();
  } finally {
    lock.release();
  }
}

const migrationsDigest = () => {
  const digest = createHash('sha256');
  const folder = path.join(root, 'prisma/migrations');
  for (const name of readdirSync(folder, { recursive: true }).sort()) {
    const file = path.join(folder, name);
    if (statSync(file).isFile()) digest.update(name).update(readFileSync(file));
  }
  return digest.digest('hex').slice(0, 16);
};

const migrate = (url) =>
  new Promise((resolve, reject) => {
    const prisma = path.join(root, 'node_modules/prisma/build/index.js');
    const env = {
      ...process.env,
      DATABASE_URL: url,
      CHECKPOINT_DISABLE: '1',
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
    };
    const child = spawn(process.execPath, [prisma, 'migrate', 'deploy'], { cwd: root, env, stdio: 'pipe' });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (said += chunk));
    child.on('exit', (code) =>
      code === 0 ? resolve() : reject(new Error(`The template database could not be migrated:\n${said}`)),
    );
  });

async function ensureTemplate(server) {
  const { default: pg } = await import('pg');
  const name = `template_${migrationsDigest()}`;
  const admin = new pg.Client({ connectionString: server.urlOf('postgres') });
  await admin.connect();
  try {
    const found = await admin.query('SELECT 1 FROM pg_database WHERE datname = $1 AND datistemplate', [name]);
    if (found.rowCount === 0) {
      await admin.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`);
      await admin.query(`CREATE DATABASE ${name}`);
      await migrate(server.urlOf(name));
      // Nobody may connect to it any more: a copy needs it quiet.
      await admin.query(`ALTER DATABASE ${name} WITH IS_TEMPLATE true ALLOW_CONNECTIONS false`);
    }
  } finally {
    await admin.end();
  }
  return name;
}

const livingUsers = () => {
  for (const name of readdirSync(users)) if (!isAlive(Number(name))) unlinkSync(path.join(users, name));
  return readdirSync(users).length;
};

/**
 * Joins the test server and makes sure of the template.
 * @returns the server's address with `DATABASE` in the place of a name, the template's name, and `leave()`
 */
export async function joinTestServer() {
  return alone(async () => {
    const server = await startPostgres(home, { settings: SETTINGS });
    const me = path.join(users, String(process.pid));
    writeFileSync(me, '');
    try {
      const template = await ensureTemplate(server);
      const leave = () =>
        alone(async () => {
          rmSync(me, { force: true });
          if (livingUsers() === 0) await server.stop();
        });
      return { url: server.urlOf('DATABASE'), template, leave };
    } catch (error) {
      unlinkSync(me);
      if (livingUsers() === 0) await server.stop();
      throw error;
    }
  });
}
