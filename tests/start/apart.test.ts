import { createHash, randomUUID } from 'node:crypto';
import path from 'node:path';
import { Client } from 'pg';
import PgBoss from 'pg-boss';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { startPostgres, type RunningPostgres } from '../../scripts/embedded-postgres.mjs';
import { listActions } from '../support/action-client';
import { startMailServer } from '../support/mail-server';
import { startBalancer } from './support/balancer';
import { endAllRuns, freePort, type Home, newHome, type Run, runPart } from './support/program';
import type { Traffic } from './support/traffic';

// Two web servers and two workers, as real processes, on one database and one folder, behind a balancer that takes turns.

const SECRET = 'a secret that is only ever used in this test';
const PATIENTLY = { timeout: 120_000, interval: 100 };

let home: Home;
let database: RunningPostgres;
let balancer: Awaited<ReturnType<typeof startBalancer>>;
let mails: Awaited<ReturnType<typeof startMailServer>>;
let webs: { port: number; run: Run }[];
let workers: Run[];
let client: Client;

const url = () => database.urlOf('cagepost');
const settings = (more: Record<string, string> = {}) => ({
  ...{ DATABASE_URL: url(), NEXTAUTH_SECRET: SECRET, NEXTAUTH_URL: balancer.origin },
  ...{ SMTP_URL: mails.url, SHARED_DATA_DIR: '1', DRAIN_MS: '1500', TZ: 'UTC' },
  ...more,
});
const startWeb = (port: number) => runPart('web', { ...home, port }, settings());
const startWorker = (more: Record<string, string> = {}) => runPart('worker', home, settings(more));
const isIn = (port: number) => vi.waitUntil(() => balancer.isIn(port), PATIENTLY);

beforeAll(async () => {
  home = await newHome();
  database = await startPostgres(home.dataDir, { settings: { fsync: 'off', synchronous_commit: 'off' } });
  mails = await startMailServer();
  const ports = [await freePort(), await freePort()];
  balancer = await startBalancer(ports);
  // All at once, on a database that is not even there.
  webs = ports.map((port) => ({ port, run: startWeb(port) }));
  workers = [startWorker(), startWorker()];
  for (const { run } of webs) await run.says('Cagepost is at ');
  for (const worker of workers) await worker.says('worker is at work');
  client = new Client({ connectionString: url() });
  await client.connect();
  for (const { port } of webs) await isIn(port);
});
afterAll(async () => {
  await client.end();
  await endAllRuns(home);
  await balancer.stop();
  await mails.stop();
  await database.stop();
  home.remove();
});

test('started at once, one of them migrates, and the others wait for it', async () => {
  const said = [...webs.map(({ run }) => run), ...workers].map((run) => run.output());
  expect(said.filter((text) => text.includes('database: migrating'))).toHaveLength(1);
  expect(said.filter((text) => text.includes('database: nothing to migrate'))).toHaveLength(3);
  const { rows } = await client.query(
    'SELECT migration_name FROM _prisma_migrations GROUP BY 1 HAVING count(*) > 1',
  );
  expect(rows).toEqual([]);
});

test('server actions have the addresses that the same sources get on any machine', () => {
  const build = path.resolve(import.meta.dirname, '../../.next');
  const key = createHash('sha256').update('cagepost action addresses').digest('base64');
  for (const { id, name } of listActions(build).values()) {
    // As the build makes them: a byte about the arguments, then SHA-1 over key, file and name.
    const address = createHash('sha1')
      .update(`${key}${name.replace(/ (?=\w+$)/, ':')}`)
      .digest('hex');
    expect(id.slice(2), name).toBe(address);
  }
});

describe('one after the other', () => {
  let traffic: Traffic;
  test('web servers are renewed and drop nothing', async () => {
    process.env.DATABASE_URL = url();
    const { startTraffic } = await import('./support/traffic');
    traffic = await startTraffic(balancer.origin, SECRET);
    await vi.waitUntil(() => traffic.done.uploads > 0, PATIENTLY);
    for (const web of webs) {
      web.run.child.kill('SIGTERM');
      expect(await web.run.ended).toEqual({ code: 0, signal: null });
      web.run = startWeb(web.port);
      await isIn(web.port);
      const taken = balancer.taken.get(web.port) ?? 0;
      await vi.waitUntil(() => (balancer.taken.get(web.port) ?? 0) > taken + 5, PATIENTLY);
    }
    await traffic.stop();
    expect(traffic.dropped).toEqual([]);
    for (const count of Object.values(traffic.done)) expect(count).toBeGreaterThan(3);
  });

  test('every mail of it left once, by whichever worker', async () => {
    const waiting = async () =>
      (await client.query('SELECT id FROM "OutboxMail" WHERE "sentAt" IS NULL')).rowCount;
    await client.query('UPDATE "OutboxMail" SET "notBefore" = now() WHERE "sentAt" IS NULL');
    await vi.waitUntil(async () => (await waiting()) === 0, PATIENTLY);
    const { rows } = await client.query<{ id: string }>('SELECT id FROM "OutboxMail" ORDER BY id');
    expect(rows.length).toBeGreaterThanOrEqual(traffic.done.submits);
    expect(mails.taken.map(({ id }) => id.replace('@cagepost', '')).sort()).toEqual(rows.map(({ id }) => id));
  });
});

test('of a hundred jobs each is done once, and both workers do some', async () => {
  const boss = new PgBoss({ connectionString: url(), supervise: false, schedule: false });
  await boss.start();
  const ids = Array.from({ length: 100 }, () => randomUUID());
  for (const breakdownId of ids)
    await boss.send('breakdowns', { kind: 'captions', breakdownId }, { singletonKey: breakdownId });
  const doneBy = (worker: Run) =>
    worker
      .output()
      .split('\n')
      .filter((line) => line.includes('work on a breakdown is over'))
      .map((line) => (JSON.parse(line) as { breakdownId: string }).breakdownId);
  await vi.waitUntil(() => workers.flatMap(doneBy).length >= ids.length, PATIENTLY);
  expect(workers.flatMap(doneBy).sort()).toEqual(ids.toSorted());
  for (const worker of workers) expect(doneBy(worker).length).toBeGreaterThan(0);
  await boss.stop({ graceful: false });
});

describe('a process that does not fit the others', () => {
  const refusal = async (run: Run) => {
    expect((await run.ended).code).toBe(1);
    expect(run.output()).not.toContain('    at '); // no stack
    return run.output();
  };

  test.each([
    ['another secret', { NEXTAUTH_SECRET: 'x'.repeat(40) }, 'NEXTAUTH_SECRET is set to something else'],
    ['another limit', { CLIP_MAX_SECONDS: '60' }, 'CLIP_MAX_SECONDS is set to something else'],
    ['files of its own', { SHARED_DATA_DIR: '' }, 'UPLOADTHING_TOKEN is not set, so files would be kept'],
    ['no database', { DATABASE_URL: '' }, 'DATABASE_URL is not set: what runs apart meets in one PostgreSQL'],
  ])('because it has %s ends with a sentence', async (_, more, sentence) => {
    expect(await refusal(startWorker(more))).toContain(sentence);
  });

  test('goes on when a newer version has changed the database, and ends when it misses changes as well', async () => {
    const rename = (from: string, to: string) =>
      client.query('UPDATE _prisma_migrations SET migration_name = $2 WHERE migration_name = $1', [from, to]);
    const { rows } = await client.query<{ last: string }>(
      'SELECT max(migration_name) AS last FROM _prisma_migrations',
    );
    const [own, later] = [rows[0]?.last ?? '', '99990101000000_later'];
    await client.query(
      `INSERT INTO _prisma_migrations (id, checksum, migration_name, finished_at, applied_steps_count)
       VALUES ($1, '', $1, now(), 1)`,
      [later],
    );
    const older = startWorker();
    await older.says('a newer version has already changed it');
    await older.says('worker is at work');
    older.child.kill('SIGTERM');
    expect((await older.ended).code).toBe(0);
    await rename(own, 'away');
    expect(await refusal(startWorker())).toContain('Start the newest version first.');
    await rename('away', own);
    await client.query('DELETE FROM _prisma_migrations WHERE migration_name = $1', [later]);
  });
});

test('a setting may be changed once all of them have ended', async () => {
  for (const run of [...webs.map((web) => web.run), ...workers]) run.child.kill('SIGTERM');
  for (const run of [...webs.map((web) => web.run), ...workers]) expect((await run.ended).code).toBe(0);
  const changed = startWorker({ CLIP_MAX_SECONDS: '60' });
  await changed.says('worker is at work');
});
