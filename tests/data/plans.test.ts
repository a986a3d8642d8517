import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { listShown } from '@/lib/data/audit.read';
import { listFamilyOpen, listFamilySettled, listOwed, listToGiveBack } from '@/lib/data/balances.read';
import { listBook } from '@/lib/data/books.read';
import { countDesk, listCare, listOwnReviewTimes, readDesk } from '@/lib/data/desk.read';
import { listDocuments } from '@/lib/data/documents.read';
import { listLedger } from '@/lib/data/ledger.read';
import { listLoads } from '@/lib/data/loads.read';
import { findPeople, listNeedingCare, listPeople } from '@/lib/data/people-lists.read';
import { listPlayers } from '@/lib/data/players.read';
import { listGiven, listOverdueSwings } from '@/lib/data/practice.read';
import { listAudit } from '@/lib/data/program.read';
import { listSwings } from '@/lib/data/progress.read';
import { listReplies } from '@/lib/data/replies.read';
import { findLessons, findPlayers } from '@/lib/data/search.read';
import { readThread } from '@/lib/data/threads.read';
import { dayIn } from '@/lib/domain/people/age';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { generate, type Generated } from '../bench/queries/generate';
import { readsOf, PAGES } from '../bench/queries/pages';
import { explain, nodesOf, statementsOf, type PlanNode } from '../support/plans';
import { viewerOf } from '../support/viewers';

// How PostgreSQL answers what the pages ask, in a program of some thousand rows with nothing switched off: by which index,
// and how many rows it touches for it. What touches few here touches as few among millions.

let client: Client;
let of: Generated;
let lead: Viewer;
let coach: Viewer;
let payer: Viewer;
let large: Set<string>;
const now = new Date();
const today = dayIn('America/Chicago', now);

beforeAll(async () => {
  client = new Client({ connectionString: process.env.DATABASE_URL });
  await client.connect();
  of = await generate(client, 'Plans', { lessons: 6000, perPlayer: 3, coaches: 6, waitingPerCoach: 30 });
  await client.query('VACUUM ANALYZE');
  const { rows } = await client.query<{ relname: string }>(
    // What VACUUM has counted: the live rows of the statistics may count the ones just made twice.
    `SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND reltuples > 3000`,
  );
  large = new Set(rows.map(({ relname }) => relname));
  const program = { id: of.programId as ProgramId };
  lead = await viewerOf({ id: of.leadId }, program);
  coach = await viewerOf({ id: of.coachId }, program);
  payer = await viewerOf({ id: of.guardianIds[0]! }, program);
});
afterAll(() => client.end());

/** The plans of every statement that the work sends, as the database carried them out. */
async function plansOf(work: () => Promise<unknown>) {
  const nodes: PlanNode[] = [];
  for (const statement of await statementsOf(work)) {
    nodes.push(...nodesOf((await explain(client, statement, true)).Plan));
  }
  const scans = nodes.filter((node) => node['Node Type'] === 'Seq Scan');
  return {
    indexes: nodes.flatMap((node) => node['Index Name'] ?? []),
    fromEndToEnd: scans.flatMap((node) => node['Relation Name'] ?? []).filter((name) => large.has(name)),
    touched: Math.max(
      ...nodes.map(
        (node) =>
          ((node['Actual Rows'] ?? 0) + (node['Rows Removed by Filter'] ?? 0)) * (node['Actual Loops'] ?? 0),
      ),
    ),
  };
}

test('the tables are large enough for a plan to matter', () => {
  expect([...large]).toEqual(
    expect.arrayContaining(['Lesson', 'Person', 'Membership', 'LedgerEntry', 'Balance', 'Clip']),
  );
});

const player = () => of.playerIds[0] as PersonId;
const lastOf = async <T>(
  pages: (after: string | null) => Promise<{ rows: T[]; next: string | null }>,
  deep = 12,
) => {
  let after: string | null = null;
  for (let page = 0; page < deep; page += 1) after = (await pages(after)).next ?? after;
  return () => pages(after);
};

// The rows touched: what one step of a plan read at most, its page of fifty, and what waits (180).
test.each<[string, string, number, () => Promise<unknown>]>([
  ['a coach’s own desk', 'Lesson_waiting_coach_idx', 100, () => readDesk(coach, { filter: 'mine', now })],
  ['what is nobody’s yet', 'Lesson_waiting_open_idx', 100, () => readDesk(lead, { filter: 'open', now })],
  ['all that waits', 'Lesson_waiting_idx', 200, () => readDesk(lead, { filter: 'all', now })],
  ['what needs care', 'Lesson_waiting', 200, () => listCare(lead, now)],
  [
    'returned this week',
    'Lesson_programId_returnedAt_id_idx',
    200,
    () => readDesk(lead, { filter: 'returned', now }),
  ],
  // Beside a hundred lessons the planner may read these two thousand threads; it does not read a hundred thousand.
  ['the counts of the desk', 'Lesson_waiting', 2100, () => countDesk(lead, now, [])],
  ['the pace', 'Lesson_coachId_returnedAt_idx', 200, () => listOwnReviewTimes(coach)],
  ['loads of coaches', 'LessonEvent_taken_idx', 200, () => listLoads(lead, { now, endOfDay: now })],
  ['swings that are overdue', 'Assignment_swing_wanted_idx', 100, () => listOverdueSwings(lead, today)],
  ['a thread', 'Lesson_threadId_number_key', 100, () => readThread(lead, player())],
  ['a thread further on', 'Lesson_threadId_number_key', 100, () => readThread(lead, player(), { before: 5 })],
  ['the swings of a player', 'Lesson_threadId_number_key', 100, () => listSwings(lead, player())],
  [
    'the practice of a player',
    'Assignment_playerId_endedAt_idx',
    100,
    () => listGiven(lead, { playerId: player() }),
  ],
  [
    'the entries of a lesson',
    'LedgerEntry_lessonId_at_idx',
    20,
    () => listLedger(lead, of.lessonIds[0] as LessonId),
  ],
  ['what is owed', 'Balance_owed_idx', 100, () => listOwed(lead)],
  ['what is to be given back', 'Balance_to_give_back_idx', 100, () => listToGiveBack(lead)],
  ['what a family owes', 'Balance_owed', 100, () => listFamilyOpen(payer)],
  ['what a family has settled', 'Balance_payerId_since_subject_idx', 100, () => listFamilySettled(payer)],
  [
    'documents of the program',
    'BillingDocument_programId_at_id_idx',
    100,
    () => listDocuments(lead, 'program'),
  ],
  ['documents of a family', 'BillingDocument_payerId_at_id_idx', 100, () => listDocuments(payer, 'family')],
  [
    'the books',
    'LedgerEntry_programId_at_id_idx',
    120,
    () => listBook(lead, { from: new Date(0), to: now, take: 100 }),
  ],
  ['the audit', 'AuditEntry_programId_at_id_idx', 120, () => listAudit(lead)],
  ['who was shown a player', 'AuditEntry_subject_at_idx', 120, () => listShown(lead, player())],
  ['the list of players', 'Membership_programId_role_sortName_personId_idx', 300, () => listPlayers(lead)],
  [
    'the people page’s players',
    'Membership_programId_role_sortName_personId_idx',
    300,
    () => listPeople(lead, 'player'),
  ],
  ['people by a word of their name', 'Membership_name_words_idx', 250, () => findPeople(lead, 'Thorn')],
  ['who needs care', 'Thread_programId_guardsUntil_idx', 300, () => listNeedingCare(lead, today)],
  [
    'the replies of a lesson',
    'Reply_lessonId_at_idx',
    60,
    () => listReplies(lead, of.lessonIds[0] as LessonId),
  ],
  ['players by a word of their name', 'Membership_name_words_idx', 250, () => findPlayers(lead, 'Thorn')],
  [
    'questions by a word that few hold',
    'Lesson_month_words_idx',
    250,
    () => findLessons(lead, of.words.rare[0]!),
  ],
  [
    'questions by a word that many hold',
    'Lesson_programId_submittedAt_id_idx',
    250,
    () => findLessons(lead, 'swing'),
  ],
])('%s is found by %s', async (_what, index, most, work) => {
  const plans = await plansOf(work);
  expect(plans.fromEndToEnd).toEqual([]);
  expect(plans.indexes.join()).toContain(index);
  expect(plans.touched).toBeLessThanOrEqual(most);
});

describe('a page far on costs what the first one does', () => {
  test.each<[string, number, () => Promise<() => Promise<unknown>>]>([
    ['documents', 60, () => lastOf((after) => listDocuments(lead, 'program', { after }))],
    ['what was done', 130, () => lastOf((after) => listAudit(lead, { after }))],
    ['who was shown a player', 130, () => lastOf((after) => listShown(lead, player(), { after }))],
    ['what is owed', 110, () => lastOf((after) => listOwed(lead, { after, take: 20 }), 3)],
    [
      'the people page',
      300,
      () => lastOf((after) => listPeople(lead, 'player', { after: after as PersonId | null, take: 50 })),
    ],
    [
      'players',
      300,
      async () => {
        let after: PersonId | undefined;
        for (let page = 0; page < 12; page += 1) {
          after = (await listPlayers(lead, after ? { after } : {})).rows.at(-1)?.id;
        }
        return () => listPlayers(lead, after ? { after } : {});
      },
    ],
  ])('%s', async (_what, most, there) => {
    const plans = await plansOf(await there());
    expect(plans.fromEndToEnd).toEqual([]);
    expect(plans.touched).toBeLessThanOrEqual(most);
  });
});

test.each(PAGES)('nothing that the page of the %s asks reads a large table from end to end', async (page) => {
  const reads = await readsOf(of);
  for (let round = 0; round < 10; round += 1) {
    expect((await plansOf(() => reads[page](round))).fromEndToEnd).toEqual([]);
  }
});
