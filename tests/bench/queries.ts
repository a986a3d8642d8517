import { performance } from 'node:perf_hooks';
import { Client } from 'pg';
import { prisma } from '@/lib/data/client';
import { listFamilyBalances, listOwed, listToGiveBack } from '@/lib/data/balances.read';
import { countDesk, DESK_FILTERS, readDesk } from '@/lib/data/desk.read';
import { listLedger } from '@/lib/data/ledger.read';
import { findLessons, findPlayers } from '@/lib/data/search.read';
import { readThread } from '@/lib/data/threads.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { viewerOf } from '../support/viewers';
import { generate, type Generated } from './queries/generate';

// Does the desk stay as fast at a million lessons as at ten thousand? Two programs are generated in one database, the
// small one is measured before the large one is there; each read is the one that its page makes. Sequential scans are
// what PostgreSQL itself counted for tables of more than a thousand rows. The last line is one JSON object.

const SMALL = { lessons: 10_000, perPlayer: 40, coaches: 4, waitingPerCoach: 12 };
const LARGE = {
  lessons: Number(process.env.BENCH_LESSONS ?? 1_000_000),
  perPlayer: 40,
  coaches: 40,
  waitingPerCoach: 12,
};
const ROUNDS = 60;

const say = (line: string) => console.log(line);
const p95 = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length * 0.95)] ?? NaN;
const rounded = (value: number) => Math.round(value * 100) / 100;

type Reads = Record<'desk' | 'thread' | 'ledger' | 'search', (round: number) => Promise<unknown>>;

const readsOf = (viewer: Viewer, coach: Viewer, payers: readonly Viewer[], of: Generated): Reads => {
  const now = new Date();
  const at = <T>(list: readonly T[], round: number) => list[round % list.length] as T;
  return {
    desk: (round) =>
      Promise.all([
        readDesk(at([coach, viewer], round), { filter: at(DESK_FILTERS, round), now }),
        countDesk(at([coach, viewer], round), now),
      ]),
    thread: (round) => readThread(viewer, at(of.playerIds, round) as PersonId),
    // A lesson's entries, what a family's payer owes, and what the lead sees of the whole program.
    ledger: (round) =>
      Promise.all([
        listLedger(viewer, at(of.lessonIds, round) as LessonId),
        listFamilyBalances(at(payers, round)),
        listOwed(viewer),
        listToGiveBack(viewer),
      ]),
    search: (round) =>
      Promise.all([
        findLessons(viewer, at([at(of.rareWords, round), at(of.commonWords, round)], round)),
        findPlayers(viewer, at(of.rareWords, round).slice(0, 3)),
      ]),
  };
};

async function measure(of: Generated): Promise<Record<keyof Reads, number>> {
  const program = { id: of.programId as ProgramId };
  const [lead, coach] = [
    await viewerOf({ id: of.leadId }, program),
    await viewerOf({ id: of.coachId }, program),
  ];
  const payers: Viewer[] = [];
  for (const id of of.guardianIds) payers.push(await viewerOf({ id }, program));
  const reads = readsOf(lead, coach, payers, of);
  const result = {} as Record<keyof Reads, number>;
  for (const name of Object.keys(reads) as (keyof Reads)[]) {
    for (let round = 0; round < 20; round += 1) await reads[name](round);
    const times: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      const begun = performance.now();
      await reads[name](round);
      times.push(performance.now() - begun);
    }
    result[name] = p95(times);
    say(`  ${name}: p95 ${rounded(result[name])} ms`);
  }
  return result;
}

/** Sequential scans that PostgreSQL counted so far, of tables with more rows than a page of them. */
async function seqScans(client: Client): Promise<Map<string, number>> {
  const { rows } = await client.query<{ relname: string; seq_scan: string }>(
    `SELECT relname, seq_scan FROM pg_stat_user_tables WHERE schemaname = 'public' AND n_live_tup > 1000`,
  );
  return new Map(rows.map((row) => [row.relname, Number(row.seq_scan)]));
}

/** What a backend counted is told at its end: closing the pool makes the numbers whole. */
async function counted<T>(client: Client, work: () => Promise<T>): Promise<{ value: T; scanned: string[] }> {
  await prisma.$disconnect();
  const before = await seqScans(client);
  const value = await work();
  await prisma.$disconnect();
  const after = await seqScans(client);
  const scanned = [...after]
    .filter(([table, count]) => count > (before.get(table) ?? 0))
    .map(([table]) => table);
  return { value, scanned };
}

async function main() {
  const client = new Client({ connectionString: process.env.DATABASE_URL });
  await client.connect();
  try {
    const results: { reads: Record<keyof Reads, number>; scanned: string[] }[] = [];
    for (const [name, shape] of [
      ['Small', SMALL],
      ['Large', LARGE],
    ] as const) {
      const begun = performance.now();
      const of = await generate(client, name, shape);
      await client.query('VACUUM ANALYZE');
      say(`${name}: ${shape.lessons} lessons made in ${Math.round((performance.now() - begun) / 1000)} s`);
      const { value, scanned } = await counted(client, () => measure(of));
      if (scanned.length > 0) say(`  read from end to end: ${scanned.join(', ')}`);
      results.push({ reads: value, scanned });
    }
    const [small, large] = results as [(typeof results)[0], (typeof results)[0]];
    const ratio = (name: keyof Reads) => rounded(large.reads[name] / small.reads[name]);
    say(
      JSON.stringify({
        lessonsSmall: SMALL.lessons,
        lessonsLarge: LARGE.lessons,
        deskP95Ratio: ratio('desk'),
        threadP95Ratio: ratio('thread'),
        ledgerP95Ratio: ratio('ledger'),
        searchP95Ratio: ratio('search'),
        seqScans: large.scanned.length,
      }),
    );
  } finally {
    await client.end();
    await prisma.$disconnect();
  }
}

await main();
