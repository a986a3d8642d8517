// `npm run migration -- NAME`: writes the next migration from the changes of prisma/schema.prisma, without asking
// anything and without touching your data: it works on a scratch copy of the test database.
import { randomUUID } from 'node:crypto';
import { readdirSync } from 'node:fs';
import pg from 'pg';
import { inRoot, mustRun, say, TOOLS, Trouble } from './steps.mjs';
import { joinTestServer } from './test-database.mjs';

const prisma = (url, ...args) =>
  mustRun('Prisma', process.execPath, [TOOLS.prisma, ...args], { env: { DATABASE_URL: url } });

/** Writes `prisma/migrations/<time>_<name>/migration.sql`; empty when the schema says nothing new. */
export async function makeMigration(name) {
  if (!name || !/^[a-z0-9_]+$/.test(name)) {
    throw new Trouble('Name the change in small letters: npm run migration -- add_clip_sound');
  }
  const folder = inRoot('prisma/migrations');
  const server = await joinTestServer();
  const scratch = `scratch_${randomUUID().replaceAll('-', '')}`;
  const admin = new pg.Client({ connectionString: server.url.replace('DATABASE', 'postgres') });
  await admin.connect();
  try {
    const before = new Set(readdirSync(folder));
    await admin.query(`CREATE DATABASE ${scratch} TEMPLATE ${server.template}`);
    const url = server.url.replace('DATABASE', scratch);
    await prisma(url, 'migrate', 'dev', '--create-only', '--name', name);
    await prisma(url, 'generate');
    const made = readdirSync(folder).find((entry) => !before.has(entry));
    say(`read prisma/migrations/${made}/migration.sql, add what Prisma cannot express, and commit it`);
  } finally {
    await admin.query(`DROP DATABASE IF EXISTS ${scratch} WITH (FORCE)`);
    await admin.end();
    await server.leave();
  }
  return 0;
}
