// `npm run migration -- NAME`: writes the next migration from the changes of prisma/schema.prisma, without asking
// anything and without touching your data: it works on a scratch copy of the test database.
import { spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { joinTestServer } from './test-database.mjs';

const root = path.resolve(import.meta.dirname, '..');
const folder = path.join(root, 'prisma/migrations');
const name = process.argv[2];
if (!name || !/^[a-z0-9_]+$/.test(name)) {
  console.error('Name the change in small letters: npm run migration -- add_clip_sound');
  process.exit(1);
}

const prisma = (args, url) => {
  const env = { ...process.env, DATABASE_URL: url, CHECKPOINT_DISABLE: '1', PRISMA_HIDE_UPDATE_MESSAGE: '1' };
  const program = path.join(root, 'node_modules/prisma/build/index.js');
  const ran = spawnSync(process.execPath, [program, ...args], {
    cwd: root,
    env,
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  if (ran.status !== 0) throw new Error(`prisma ${args.join(' ')} failed`);
};

const server = await joinTestServer();
const scratch = `scratch_${randomUUID().replaceAll('-', '')}`;
const admin = new pg.Client({ connectionString: server.url.replace('DATABASE', 'postgres') });
await admin.connect();
try {
  const before = new Set(readdirSync(folder));
  await admin.query(`CREATE DATABASE ${scratch} TEMPLATE ${server.template}`);
  const url = server.url.replace('DATABASE', scratch);
  prisma(['migrate', 'dev', '--create-only', '--name', name], url);
  prisma(['generate'], url);
  const made = readdirSync(folder).find((entry) => !before.has(entry));
  console.log(`Read prisma/migrations/${made}/migration.sql, add what Prisma cannot express, and commit it.`);
} finally {
  await admin.query(`DROP DATABASE IF EXISTS ${scratch} WITH (FORCE)`);
  await admin.end();
  await server.leave();
}
