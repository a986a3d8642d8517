import { fork, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { performance } from 'node:perf_hooks';
import { Client } from 'pg';
import { generate, type Shape } from './queries/generate';
import { PAGES, type PageName } from './queries/pages';
import type { Ask, Planned } from './queries/reader';

// Is a program of a million lessons as fast as one of ten thousand? Each is generated into a database of its own; each
// read is the one that its page makes. Sequential scans are what PostgreSQL itself counted for tables of more than a
// thousand rows while the pages were read. The last line is one JSON object.
// BENCH_LESSONS sets the large program's lessons; BENCH_PLANS=1 also prints what the database did for each statement.

// Two days of a program that is sent a million lessons in eight years lie on its desk; on the small one as many as fill a
// page of it, so that both draw whole pages.
const SMALL: Shape = { lessons: 10_000, perPlayer: 40, coaches: 10, waitingPerCoach: 16 };
const LARGE: Shape = {
  ...SMALL,
  lessons: Number(process.env.BENCH_LESSONS ?? 1_000_000),
  coaches: 40,
};
const WARM_ROUNDS = 80;
const ROUNDS = 240;

const say = (line: string) => console.log(line);
const p95 = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length * 0.95)] ?? NaN;
const rounded = (value: number) => Math.round(value * 100) / 100;

const addressOf = (database: string) => {
  const url = new URL(process.env.DATABASE_URL ?? '');
  url.pathname = `/${database}`;
  return url.href;
};

async function within<T>(database: string, work: (client: Client) => Promise<T>): Promise<T> {
  const client = new Client({ connectionString: addressOf(database) });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** Sequential scans that PostgreSQL counted so far, of tables with more than a thousand rows. */
const seqScans = (database: string) =>
  within(database, async (client) => {
    const { rows } = await client.query<{ relname: string; seq_scan: string }>(
      `SELECT relname, seq_scan FROM pg_stat_user_tables WHERE schemaname = 'public' AND n_live_tup > 1000`,
    );
    return new Map(rows.map((row) => [row.relname, Number(row.seq_scan)]));
  });

class Reader {
  private readonly child: ChildProcess;

  constructor(
    readonly name: string,
    private readonly database: string,
  ) {
    this.child = fork(path.join(import.meta.dirname, 'queries/reader.ts'), {
      env: { ...process.env, DATABASE_URL: addressOf(database) },
    });
  }

  async ask<T>(ask: Ask): Promise<T> {
    const said = once(this.child, 'message') as Promise<[{ value?: T; error?: string }]>;
    this.child.send(ask);
    const [{ value, error }] = await said;
    if (error) throw new Error(`${this.name}: ${error}`);
    return value as T;
  }

  scans = () => seqScans(this.database);
  kill = () => this.child.kill();
}

async function prepare(name: string, database: string, shape: Shape): Promise<Reader> {
  const begun = performance.now();
  const of = await within(database, async (client) => {
    const made = await generate(client, name, shape);
    await client.query('VACUUM ANALYZE');
    return made;
  });
  say(`${name}: ${shape.lessons} lessons made in ${Math.round((performance.now() - begun) / 1000)} s`);
  const reader = new Reader(name, database);
  await reader.ask({ do: 'begin', of });
  return reader;
}

async function measure(page: PageName, readers: readonly Reader[]): Promise<number> {
  const times = new Map(readers.map((reader) => [reader, [] as number[]]));
  for (let round = 0; round < WARM_ROUNDS + ROUNDS; round += 1) {
    // Who goes first takes turns as well.
    for (const reader of round % 2 ? [...readers].reverse() : readers) {
      const ms = await reader.ask<number>({ do: 'read', page, round });
      if (round >= WARM_ROUNDS) times.get(reader)!.push(ms);
    }
  }
  const [small = NaN, large = NaN] = [...times.values()].map(p95);
  say(`  ${page}: p95 ${rounded(small)} ms small, ${rounded(large)} ms large`);
  return rounded(large / small);
}

async function showPlans(readers: readonly Reader[]) {
  for (const page of PAGES) {
    for (let round = 0; round < 24; round += 1) {
      for (const reader of readers) {
        const plans = await reader.ask<Planned[]>({ do: 'plans', page, round });
        for (const plan of plans) {
          say(`PLAN ${JSON.stringify({ page, round, program: reader.name, ...plan })}`);
        }
      }
    }
  }
}

async function main() {
  const large = new URL(process.env.DATABASE_URL ?? '').pathname.slice(1);
  const small = `${large}_small`;
  await within('postgres', (client) => client.query(`CREATE DATABASE ${small} TEMPLATE ${large}`));
  const readers: Reader[] = [];
  try {
    readers.push(await prepare('Small', small, SMALL));
    readers.push(await prepare('Large', large, LARGE));
    if (process.env.BENCH_PLANS) await showPlans(readers);
    const before = await Promise.all(readers.map((reader) => reader.scans()));
    const ratios = {} as Record<PageName, number>;
    for (const page of PAGES) ratios[page] = await measure(page, readers);
    // What a connection counted is told at its end.
    for (const reader of readers) await reader.ask({ do: 'end' });
    const scanned = await Promise.all(
      readers.map(async (reader, index) =>
        [...(await reader.scans())]
          .filter(([table, count]) => count > (before[index]?.get(table) ?? 0))
          .map(([table]) => table),
      ),
    );
    scanned.forEach((tables, index) => {
      if (tables.length > 0) say(`  ${readers[index]?.name}: read from end to end: ${tables.join(', ')}`);
    });
    say(
      JSON.stringify({
        lessonsSmall: SMALL.lessons,
        lessonsLarge: LARGE.lessons,
        deskP95Ratio: ratios.desk,
        threadP95Ratio: ratios.thread,
        ledgerP95Ratio: ratios.ledger,
        searchP95Ratio: ratios.search,
        seqScans: new Set(scanned.flat()).size,
      }),
    );
  } finally {
    for (const reader of readers) reader.kill();
    await within('postgres', (client) => client.query(`DROP DATABASE IF EXISTS ${small} WITH (FORCE)`));
  }
}

await main();
