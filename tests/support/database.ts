import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, inject } from 'vitest';

// Runs before the imports of each test file of the `node` project: the file gets a database of its own, an empty
// copy of the migrated template, so that files can run at the same time and never see each other's rows.

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
process.env.DATABASE_URL = addressOf(name);
process.env.DATABASE_POOL = '4';

afterAll(async () => {
  // The client of lib/data, if a test has imported it.
  const kept = globalThis as unknown as { cagepostPrisma?: { $disconnect(): Promise<void> } };
  await kept.cagepostPrisma?.$disconnect();
  delete kept.cagepostPrisma;
  await asAdmin(`DROP DATABASE ${name} WITH (FORCE)`);
});
