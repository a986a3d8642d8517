import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startPostgres } from '../../scripts/embedded-postgres.mjs';

let home: string;
beforeAll(() => {
  home = mkdtempSync(path.join(tmpdir(), 'cagepost-test-'));
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

// Its children go on until their query is done, and hold the memory that a new server wants.
test('a server that was killed under busy sessions starts again, and its log tells why it had to wait', async () => {
  let server = await startPostgres(home, { settings: { fsync: 'off' } });
  for (let kill = 0; kill < 3; kill++) {
    const clients = Array.from(
      { length: 4 },
      () => new pg.Client({ connectionString: server.urlOf('postgres') }),
    );
    const ends = clients.map(async (client) => {
      client.on('error', () => {});
      await client.connect();
      return client;
    });
    for (const client of await Promise.all(ends))
      void client.query('SELECT count(*) FROM generate_series(1, 4000000)').catch(() => {});
    const other = new pg.Client({ connectionString: server.urlOf('postgres') });
    await other.connect();
    await expect
      .poll(async () => {
        const sql = `SELECT 1 FROM pg_stat_activity WHERE state = 'active' AND query LIKE '%generate_series%'`;
        return (await other.query(sql)).rowCount;
      })
      .toBeGreaterThan(4);
    await other.end();
    process.kill(server.pid, 'SIGKILL');
    server = await startPostgres(home, { settings: { fsync: 'off' } });
    expect(readFileSync(path.join(home, 'postgres.log'), 'utf8')).not.toContain('\0');
  }
  await server.stop();
});
