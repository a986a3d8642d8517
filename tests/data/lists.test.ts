import { v7 as uuid } from 'uuid';
import { beforeAll, describe, expect, test } from 'vitest';
import { listShown } from '@/lib/data/audit.read';
import { listTranscripts } from '@/lib/data/breakdowns.read';
import { prisma } from '@/lib/data/client';
import { listConcerns } from '@/lib/data/concerns.read';
import { listDrills } from '@/lib/data/drills.read';
import { listInvitations } from '@/lib/data/invitations.read';
import { findPeople, listNeedingCare, listPeople } from '@/lib/data/people-lists.read';
import { listPlayers } from '@/lib/data/players.read';
import { listAudit } from '@/lib/data/program.read';
import { listRemarks } from '@/lib/data/remarks.read';
import { listReplies } from '@/lib/data/replies.read';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { searchTranscripts } from '@/lib/workflows/search-transcripts';
import {
  buildGuardian,
  buildInvitation,
  buildLead,
  buildLesson,
  buildMember,
  buildPlayer,
  buildProgram,
  buildReply,
} from '../support/build';
import { buildBreakdown, buildRemark } from '../support/build-breakdown';
import { buildConcern, buildConsent, buildShown } from '../support/build-care';
import { buildDrill } from '../support/build-practice';
import { viewerOf } from '../support/viewers';

// Lists that go on by value: whatever is equal in them stands on one page and on one only.

const now = new Date('2026-06-01T12:00:00Z');
const today = dayIn('America/Chicago', now);
const at = new Date('2026-05-01T12:00:00Z');

type Page = { rows: readonly object[]; next: string | null };
type List = (go: { after: string | null; take: number }) => Promise<Page>;

async function academy() {
  const program = await buildProgram();
  const lead = await buildLead(program, { name: 'Ada Lead' });
  const asLead = await viewerOf(lead, program);
  return { program, lead, asLead };
}

const BAD = [
  '',
  'nonsense',
  uuid(),
  `2026-13-45T99:99:99.000Z_${uuid()}`,
  `0000-01-01T00:00:00.000Z_${uuid()}`,
].concat(`${uuid()}_a\0`, `2026-05-01T12:00:00.000Z_${'-'.repeat(36)}`);

/** Seven rows, of which most are equal in what the list is ordered by; and the list. */
const LISTS: Record<string, () => Promise<{ ids: string[]; list: List }>> = {
  async players() {
    const { program, asLead } = await academy();
    const rows = await sevenTimes((turn) => buildPlayer(program, { name: same(turn) }));
    return named(rows, (go) => listPeople(asLead, 'player', person(go)));
  },
  async guardians() {
    const { program, asLead } = await academy();
    const rows = await sevenTimes((turn) => buildMember(program, ['guardian'], { name: same(turn) }));
    return named(rows, (go) => listPeople(asLead, 'guardian', person(go)));
  },
  // Who is a coach and a lead too stands there once; the lead of the academy is the seventh.
  async staff() {
    const { program, lead, asLead } = await academy();
    const rows = await Promise.all(
      [0, 1, 2, 3, 4, 5].map((turn) =>
        buildMember(program, turn % 2 ? ['coach', 'lead'] : ['coach'], { name: same(turn) }),
      ),
    );
    return named([...rows, lead], (go) => listPeople(asLead, 'staff', person(go)));
  },
  async 'who needs care'() {
    const { program, asLead } = await academy();
    const rows = await sevenTimes((turn) => buildPlayer(program, { age: 15, name: same(turn) }));
    await buildPlayer(program, { age: 30 });
    const guarded = await buildPlayer(program, { age: 15 });
    await buildGuardian(program, [guarded]);
    return named(rows, (go) => listNeedingCare(asLead, today, person(go)));
  },
  async audit() {
    const { program, asLead } = await academy();
    await prisma.auditEntry.createMany({
      data: [0, 1, 2, 3, 4, 5, 6].map((turn) => ({
        id: uuid(),
        programId: program.id,
        action: 'program.changed',
        subject: `program:${program.id}`,
        at: instant(turn),
      })),
    });
    const rows = await prisma.auditEntry.findMany({ where: { programId: program.id } });
    return { ids: rows.map(({ id }) => id), list: (go) => listAudit(asLead, go) };
  },
  async 'who was shown a player'() {
    const { program, lead, asLead } = await academy();
    const player = await buildPlayer(program, { age: 15 });
    const rows = await sevenTimes((turn) =>
      buildShown(program, player, lead, { id: uuid() }, { at: instant(turn) }),
    );
    return named(rows, (go) => listShown(asLead, player.id, go));
  },
  async invitations() {
    const { program, lead, asLead } = await academy();
    const rows = await sevenTimes((turn) => buildInvitation(program, lead, { createdAt: instant(turn) }));
    return named(rows, (go) => listInvitations(asLead, now, go));
  },
  async 'open concerns'() {
    const { program, asLead } = await academy();
    const player = await buildPlayer(program);
    const rows = await sevenTimes((turn) => buildConcern(program, player, { at: instant(turn) }));
    await buildConcern(program, player, { closedAt: at, outcome: 'Done.' });
    return named(rows, (go) => listConcerns(asLead, 'open', go));
  },
  async 'closed concerns'() {
    const { program, asLead } = await academy();
    const player = await buildPlayer(program);
    await buildConcern(program, player);
    const rows = await sevenTimes((turn) =>
      buildConcern(program, player, { closedAt: instant(turn), outcome: 'Done.' }),
    );
    return named(rows, (go) => listConcerns(asLead, 'closed', go));
  },
  async replies() {
    const { program, lead, asLead } = await academy();
    const player = await buildPlayer(program);
    const lesson = await buildLesson(program, player, { state: 'submitted' });
    const rows = await sevenTimes((turn) => buildReply(lesson, lead, { at: instant(turn) }));
    return named(rows, (go) => listReplies(asLead, lesson.id, go));
  },
  async transcripts() {
    const { program, lead, asLead } = await academy();
    const player = await buildPlayer(program);
    const lesson = await buildLesson(program, player, { state: 'returned' });
    const rows = await sevenTimes((turn) =>
      buildBreakdown(lesson, lead, { isGiven: true, createdAt: instant(turn) }),
    );
    return named(rows, async (go) => {
      const { rows: page, next } = await listTranscripts(asLead, player.threadId, go);
      return { rows: page.map(({ of }) => of), next };
    });
  },
  async drills() {
    const { program, asLead } = await academy();
    const rows = await sevenTimes((turn) => buildDrill(program, { title: same(turn) }));
    return named(rows, (go) => listDrills(asLead, go));
  },
  async remarks() {
    const { program, lead, asLead } = await academy();
    const rows = await sevenTimes((turn) => buildRemark(program, lead, { title: same(turn) }));
    return named(rows, (go) => listRemarks(asLead, go));
  },
};

const same = (turn: number) => (turn < 5 ? 'Sam Same' : `Zoe ${turn}`);
const instant = (turn: number) => (turn < 5 ? at : new Date(at.getTime() + turn));
// As the page reads it.
const person = ({ after, take }: { after: string | null; take: number }) => ({
  after: anId<PersonId>().safeParse(after).data ?? null,
  take,
});
const sevenTimes = <Row>(build: (turn: number) => Promise<Row>) =>
  Promise.all([0, 1, 2, 3, 4, 5, 6].map(build));
const named = (rows: readonly { id: unknown }[], list: List) => ({
  ids: rows.map(({ id }) => String(id)),
  list,
});
const idsOf = (page: Page) => page.rows.map((row) => String(Object.values(row)[0]));

describe.each(Object.entries(LISTS))('%s', (_name, build) => {
  let made: Awaited<ReturnType<typeof build>>;
  beforeAll(async () => {
    made = await build();
  });

  test('two pages hold every row once, and the last one leads nowhere', async () => {
    const first = await made.list({ after: null, take: 4 });
    expect(first.rows).toHaveLength(4);
    const second = await made.list({ after: first.next, take: 4 });
    expect([...idsOf(first), ...idsOf(second)].sort()).toEqual(made.ids.toSorted());
    expect(second.next).toBeNull();
  });
  test('a page that is just full leads nowhere', async () => {
    expect((await made.list({ after: null, take: 7 })).next).toBeNull();
  });
  test.each(BAD)('a place that is none (%j) is the beginning', async (after) => {
    const first = await made.list({ after: null, take: 4 });
    expect(await made.list({ after, take: 4 })).toEqual(first);
  });
});

test('a page of replies reads downwards, and the newest come first', async () => {
  const { program, lead, asLead } = await academy();
  const lesson = await buildLesson(program, await buildPlayer(program), { state: 'submitted' });
  for (const turn of [5, 6, 7, 8, 9]) await buildReply(lesson, lead, { body: `${turn}`, at: instant(turn) });
  const first = await listReplies(asLead, lesson.id, { take: 2 });
  expect(first.rows.map(({ body }) => body)).toEqual(['8', '9']);
  const second = await listReplies(asLead, lesson.id, { after: first.next, take: 2 });
  expect(second.rows.map(({ body }) => body)).toEqual(['6', '7']);
});

test('people are found by words of their name, whatever they are', async () => {
  const { program, asLead } = await academy();
  const player = await buildPlayer(program, { name: 'Wren Zabel' });
  const guardian = await buildMember(program, ['guardian'], { name: 'Ines Zabel' });
  await buildMember(program, ['coach'], { name: 'Cole Birk' });
  const found = await findPeople(asLead, 'zab');
  expect(found).toMatchObject({
    rows: [{ personId: guardian.id }, { personId: player.id }],
    hasMore: false,
  });
  expect(await findPeople(asLead, 'zab', 1)).toMatchObject({
    rows: [{ personId: guardian.id }],
    hasMore: true,
  });
});

test('a consent that ends and a pause bring a minor among those who need care, from that day on', async () => {
  const { program, asLead } = await academy();
  const [ended, paused] = [await buildPlayer(program, { age: 15 }), await buildPlayer(program, { age: 15 })];
  const guardian = await buildGuardian(program, [ended]);
  await buildConsent(program, ended, guardian, { expiresAt: new Date('2026-06-01T00:00:00Z') });
  await buildGuardian(program, [paused], { pausedAt: at });
  const idsOn = async (day: string) =>
    (await listNeedingCare(asLead, day as Day)).rows.map(({ personId }) => personId);
  expect(await idsOn('2026-05-31')).toEqual([paused.id]);
  expect((await idsOn('2026-06-01')).sort()).toEqual([ended.id, paused.id].sort());
});

test('a player’s line tells of the latest lesson that was sent', async () => {
  const { program, lead, asLead } = await academy();
  const player = await buildPlayer(program);
  await buildLesson(program, player, { state: 'returned', number: 1, submittedAt: instant(0) });
  const latest = await buildLesson(program, player, {
    state: 'returned',
    number: 2,
    submittedAt: instant(6),
  });
  await buildLesson(program, player, { state: 'draft', number: null, submittedAt: null });
  await prisma.return.createMany({
    data: [1, 2].map((number) => ({
      ...{ id: uuid(), lessonId: latest.id, number, byId: lead.id, sheet: {} },
      fixFirst: `Return ${number}`,
    })),
  });
  expect((await listPlayers(asLead)).rows).toMatchObject([
    { id: player.id, lessonCount: 2, lastSentAt: instant(6), fixFirst: 'Return 2' },
  ]);
});

test('a search through what was said stops at a hundred places and goes on from there', async () => {
  const { program, lead, asLead } = await academy();
  const player = await buildPlayer(program);
  const lesson = await buildLesson(program, player, { state: 'returned' });
  const cues = Array.from(
    { length: 60 },
    (_, cue) => `00:${String(cue).padStart(2, '0')}.000 --> 00:59.500\nHands ${cue}\n`,
  );
  const captions = ['WEBVTT', '', cues.join('\n')].join('\n');
  for (const turn of [0, 1, 2]) {
    await buildBreakdown(lesson, lead, { isGiven: true, createdAt: instant(turn), captions });
  }
  const look = (after: string | null) =>
    searchTranscripts(asLead, { threadId: player.threadId, words: 'hands', after });
  const first = await look(null);
  expect(first.hits).toHaveLength(120);
  const second = await look(first.next);
  expect(second.hits).toHaveLength(60);
  expect(second.next).toBeNull();
  expect(new Set([...first.hits, ...second.hits].map(({ breakdownId }) => breakdownId)).size).toBe(3);
});
