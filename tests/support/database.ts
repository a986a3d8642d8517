import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Client } from 'pg';
import { afterAll, inject } from 'vitest';

// Runs before the imports of each test file of the `node` project: the file gets a database of its own, an empty
// copy of the migrated template, so that files can run at the same time and never see each other's rows. The other
// settings that the program cannot do without come along, with a data folder that goes away at the end.

const { url, template } = inject('postgres');
const addressOf = (database: string) => url.replace('DATABASE', database);
const name = `test_${randomUUID().replaceAll('-', '')}`;

const asAdmin = async (sql: string) => {
  const client = new Client({ connectionString: addressOf('postgres') });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
};

await asAdmin(`CREATE DATABASE ${name} TEMPLATE ${template}`);
const dataFolder = await mkdtemp(path.join(tmpdir(), 'cagepost-test-'));
Object.assign(process.env, {
  DATABASE_URL: addressOf(name),
  DATABASE_POOL: '4',
  DATA_DIR: dataFolder,
  NEXTAUTH_SECRET: 'a secret of the tests, long enough for all',
  NEXTAUTH_URL: 'http://127.0.0.1:3000',
  LOG_LEVEL: 'silent',
});

afterAll(async () => {
  // The client of lib/data, if a test has imported it.
  const kept = globalThis as unknown as { cagepostPrisma?: { $disconnect(): Promise<void> } };
  await kept.cagepostPrisma?.$disconnect();
  delete kept.cagepostPrisma;
  await asAdmin(`DROP DATABASE ${name} WITH (FORCE)`);
  await rm(dataFolder, { recursive: true, force: true });
});
