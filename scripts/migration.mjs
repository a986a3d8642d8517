// `npm run migration -- NAME`: writes the next migration from the changes of prisma/schema.prisma, without asking
// anything and without touching your data: it works on a scratch copy of the test database.
import { execFile } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import pg from 'pg';
import { inRoot, mustRun, root, say, TOOLS, Trouble } from './steps.mjs';
import { joinTestServer } from './test-database.mjs';

const stamp = () => new Date().toISOString().replace(/\D/g, '').slice(0, 14);

/** The SQL from the database at `url`, which has every migration so far, to the schema. */
// Not `migrate dev`: it stops to ask whenever a change could fail on the rows of some database.
async function difference(url) {
  const args = [
    'migrate',
    'diff',
    '--from-config-datasource',
    '--to-schema',
    'prisma/schema.prisma',
    '--script',
  ];
  const env = { ...process.env, DATABASE_URL: url };
  const { stdout } = await promisify(execFile)(process.execPath, [TOOLS.prisma, ...args], { cwd: root, env });
  return stdout;
}

// Indexes over expressions stand only in SQL; Prisma does not know them and leaves them alone.
const isEmpty = (sql) => !/^\s*(ALTER|CREATE|DROP|UPDATE|INSERT|DELETE)\b/im.test(sql);

/** Writes `prisma/migrations/<time>_<name>/migration.sql`; nothing when the schema says nothing new. */
export async function makeMigration(name) {
  if (!name || !/^[a-z0-9_]+$/.test(name)) {
    throw new Trouble('Name the change in small letters: npm run migration -- add_clip_sound');
  }
  const server = await joinTestServer();
  const scratch = `scratch_${randomUUID().replaceAll('-', '')}`;
  const admin = new pg.Client({ connectionString: server.url.replace('DATABASE', 'postgres') });
  await admin.connect();
  try {
    await admin.query(`CREATE DATABASE ${scratch} TEMPLATE ${server.template}`);
    const sql = await difference(server.url.replace('DATABASE', scratch));
    await mustRun('Prisma', process.execPath, [TOOLS.prisma, 'generate']);
    if (isEmpty(sql)) {
      say('the schema says nothing that the migrations do not');
      return 0;
    }
    const folder = path.join('prisma/migrations', `${stamp()}_${name}`);
    mkdirSync(inRoot(folder));
    writeFileSync(inRoot(folder, 'migration.sql'), sql);
    say(`read ${folder}/migration.sql, add what Prisma cannot express, and commit it`);
  } finally {
    await admin.query(`DROP DATABASE IF EXISTS ${scratch} WITH (FORCE)`);
    await admin.end();
    await server.leave();
  }
  return 0;
}
