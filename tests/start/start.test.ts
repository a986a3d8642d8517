import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import {
  databaseOf,
  endAllRuns,
  familyOf,
  health,
  type Home,
  isAlive,
  newHome,
  run,
  runByNpm,
  runDev,
} from './support/program';

// These start the real program, as `npm start` does, and end it in every way a person, a machine or a power cut can.
// They need the pages to be built; the first run builds them if nobody did.

let home: Home;
beforeAll(async () => {
  home = await newHome();
});
afterEach(() => endAllRuns(home));
afterAll(() => home.remove());

const READY = 'Cagepost is at ';

const allUp = () =>
  vi.waitFor(
    async () => {
      expect(await health(home)).toMatchObject({
        status: 200,
        body: { database: 'up', storage: 'up', queue: 'up', worker: 'up' },
      });
    },
    { timeout: 60_000, interval: 200 },
  );

describe('a start', () => {
  test('killed while it makes the database leaves nothing half-made behind', async () => {
    const first = run(home);
    await first.says('database: new, making its tables');
    first.child.kill('SIGKILL');
    await first.ended;
    const second = run(home);
    await second.says('database: new, making its tables'); // from the beginning, in another name
    await second.says(READY);
    expect(second.output()).toContain(`${READY}${home.address}`);
    await allUp();
  });

  test('a second time does nothing again', async () => {
    const again = run(home);
    await again.says(READY);
    for (const step of ['packages', 'database client', 'pose model', 'settings', 'database', 'pages']) {
      expect(again.output()).toContain(`${step}: nothing changed`);
    }
    await allUp();
    const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
    expect((await health(home)).body.version).toBe(version);
  });

  test('keeps its secrets to itself', async () => {
    for (const file of ['nextauth-secret', 'db-password']) {
      expect(statSync(path.join(home.dataDir, file)).mode & 0o777).toBe(0o600);
    }
  });

  test('listens on this machine only', async () => {
    const only = run(home);
    await only.says(READY);
    const table = readFileSync('/proc/net/tcp', 'utf8') + readFileSync('/proc/net/tcp6', 'utf8');
    const port = home.port.toString(16).toUpperCase().padStart(4, '0');
    const listening = table.match(new RegExp(`\\b[0-9A-F]+:${port} 0+:0000 0A`, 'g')) ?? [];
    expect(listening.map((line) => line.split(':')[0])).toEqual(['0100007F']); // 127.0.0.1
  });
});

describe('for developers', () => {
  test('the server with reloading answers, and ends with all that belongs to it', async () => {
    const program = runDev(home);
    await program.says(READY);
    await allUp();
    const family = [...familyOf(program.child.pid ?? 0), databaseOf(home) ?? 0];
    program.child.kill('SIGTERM');
    expect((await program.ended).code).toBe(0);
    await vi.waitUntil(() => !family.some(isAlive), { timeout: 20_000 });
  });
});

describe('the end', () => {
  test.each(['SIGTERM', 'SIGINT'] as const)('by %s takes everything along', async (signal) => {
    const program = run(home);
    await program.says(READY);
    await allUp();
    const family = [...familyOf(program.child.pid ?? 0), databaseOf(home) ?? 0];
    expect(family.length).toBeGreaterThanOrEqual(3); // server, worker, database
    program.child.kill(signal);
    expect(await program.ended).toEqual({ code: 0, signal: null });
    expect(family.filter(isAlive)).toEqual([]);
    expect(existsSync(path.join(home.dataDir, 'pg/postmaster.pid'))).toBe(false);
  });

  test('by SIGTERM in the middle of the steps is as clean', async () => {
    const program = run(home);
    await program.says('database: starting');
    program.child.kill('SIGTERM');
    expect((await program.ended).code).toBe(0);
    await vi.waitUntil(() => !databaseOf(home) || !isAlive(databaseOf(home) ?? 0), { timeout: 20_000 });
  });

  test('by SIGKILL: server and worker go too, and the next start takes over the database', async () => {
    const program = run(home);
    await program.says(READY);
    const database = databaseOf(home) ?? 0;
    const ofDatabase = [database, ...familyOf(database)];
    const family = familyOf(program.child.pid ?? 0).filter((pid) => !ofDatabase.includes(pid));
    expect(family).toHaveLength(2);
    program.child.kill('SIGKILL');
    await program.ended;
    await vi.waitUntil(() => family.every((pid) => !isAlive(pid)), { timeout: 20_000 });
    expect(isAlive(database)).toBe(true);

    const next = run(home);
    await next.says(READY);
    await allUp();
    expect(databaseOf(home)).toBe(database);
    next.child.kill('SIGTERM');
    await next.ended;
    expect(isAlive(database)).toBe(false); // taken over, so also ended
  });

  test('of npm by SIGKILL, which nobody can pass on, ends the program that it started', async () => {
    const npm = runByNpm(home);
    await npm.says(READY);
    const all = [...familyOf(npm.child.pid ?? 0), databaseOf(home) ?? 0];
    npm.child.kill('SIGKILL');
    await vi.waitUntil(() => !all.some(isAlive), { timeout: 60_000 });
  });

  test('of all of it at once by SIGKILL, as when the power goes: the next start works', async () => {
    const program = run(home);
    await program.says(READY);
    const all = [...familyOf(program.child.pid ?? 0), program.child.pid ?? 0, databaseOf(home) ?? 0];
    for (const pid of all) process.kill(pid, 'SIGKILL');
    await program.ended;
    const next = run(home);
    await next.says(READY);
    await allUp();
  });
});

describe('beside another one', () => {
  test('on the same folder it says so and leaves the first alone', async () => {
    const first = run(home);
    await first.says(READY);
    const second = run(home);
    expect((await second.ended).code).toBe(1);
    const told = second.output().split('\n').filter(Boolean);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(/Cagepost is already running from this folder \(process \d+\)/);
    await allUp();
  });

  test('on the same port it says so', async () => {
    const first = run(home);
    await first.says(READY);
    const other = { ...(await newHome()), port: home.port };
    const second = run(other);
    expect((await second.ended).code).toBe(1);
    expect(second.output()).toContain(
      `Port ${home.port} is used by another program. Set PORT to a free one.`,
    );
    other.remove();
  });

  test('a lock of a process that is gone is no lock, even if its number lives on in another one', async () => {
    writeFileSync(path.join(home.dataDir, 'running.lock'), `${process.pid}\nlong ago\n`);
    const program = run(home);
    await program.says('database: starting');
  });
});

describe('what falls down', () => {
  test('a worker that dies is started again', async () => {
    const program = run(home);
    await program.says('worker is at work');
    const [worker] = familyOf(program.child.pid ?? 0).filter((pid) =>
      readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes('lib/worker/main.ts'),
    );
    process.kill(worker ?? 0, 'SIGKILL');
    await program.says('worker: ended unexpectedly');
    await program.says(/worker is at work[^]*worker is at work/);
    await allUp();
  });

  test('a database that dies ends the program with a sentence', async () => {
    const program = run(home);
    await program.says(READY);
    process.kill(databaseOf(home) ?? 0, 'SIGKILL');
    expect((await program.ended).code).toBe(1);
    expect(program.output()).toContain('The database ended unexpectedly');
  });

  test('a fault in the settings is told in plain sentences, all at once, before anything starts', async () => {
    const program = run(home, { SMTP_URL: 'mail.example.org', LOG_LEVEL: 'loud' });
    expect((await program.ended).code).toBe(1);
    expect(program.output()).toContain('SMTP_URL is not the address of a mail server');
    expect(program.output()).toContain('LOG_LEVEL is one of');
    expect(program.output()).not.toContain('database: starting');
    expect(program.output()).not.toContain('    at '); // no stack
  });

  test('a database of one’s own that does not answer is told', async () => {
    const program = run(home, {
      DATABASE_URL: 'postgresql://nobody@127.0.0.1:1/none',
      NEXTAUTH_SECRET: 'x'.repeat(32),
      NEXTAUTH_URL: home.address,
    });
    expect((await program.ended).code).toBe(1);
    expect(program.output()).toContain('The database of DATABASE_URL does not answer');
  });
});

test('a command that is not there is told with those that are', () => {
  const ran = spawnSync(process.execPath, ['scripts/run.mjs', 'fly'], { encoding: 'utf8' });
  expect(ran.status).toBe(1);
  expect(ran.stderr).toContain('There is no command "fly". There are: start, dev');
});
