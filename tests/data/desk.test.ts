import { beforeAll, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { countDesk, listCare, listToGiveOut, readDesk } from '@/lib/data/desk.read';
import { listDeskViews } from '@/lib/data/desk-views.read';
import { listLoads } from '@/lib/data/loads.read';
import type { DeskCursor, DeskQuery } from '@/lib/domain/desk/desk-query';
import type { Viewer } from '@/lib/domain/people/viewer';
import { keepDeskView } from '@/lib/workflows/keep-desk-view';
import { removeDeskView } from '@/lib/workflows/remove-desk-view';
import {
  buildCoach,
  buildLead,
  buildLedgerEntry,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../support/build';
import { buildCoachHours } from '../support/build-desk';
import { viewerOf } from '../support/viewers';

const HOUR = 3_600_000;
const now = new Date();
const inHours = (hours: number) => new Date(now.getTime() + hours * HOUR);

async function build() {
  const program = await buildProgram();
  const lead = await buildLead(program, { name: 'Lena Lead' });
  const coach = await buildCoach(program, { name: 'Cole Coach' });
  const grown = await buildPlayer(program, { age: 30, name: 'Ada O’Neil' });
  const young = await buildPlayer(program, { age: 12, name: 'Bo Finch' });
  const make = (player: typeof grown, facts: Parameters<typeof buildLesson>[2]) =>
    buildLesson(program, player, facts);
  return {
    program,
    coach,
    lead,
    as: { lead: await viewerOf(lead, program), coach: await viewerOf(coach, program) },
    lessons: {
      late: await make(grown, { promisedAt: inHours(-3), question: 'Why late on fastballs?' }),
      soon: await make(young, { promisedAt: inHours(1), coachId: coach.id, question: 'Are my feet ok?' }),
      begun: await make(grown, { promisedAt: inHours(2), coachId: coach.id, state: 'in_review' }),
      other: await make(grown, { promisedAt: inHours(30) }),
      back: await make(grown, { state: 'returned', coachId: coach.id }),
    },
  };
}
let world: Awaited<ReturnType<typeof build>>;
beforeAll(async () => {
  world = await build();
  await buildLedgerEntry(world.lessons.other, world.lead);
});

const ask = async (viewer: Viewer, query: Partial<DeskQuery>) => {
  const names = new Map(Object.entries(world.lessons).map(([name, { id }]) => [id, name]));
  const { rows } = await readDesk(viewer, { filter: 'all', ...query, now });
  return rows.map(({ id }) => names.get(id));
};

describe('what narrows the desk', () => {
  test.each<[string, Partial<DeskQuery>, string[]]>([
    ['nothing: overdue first, then by promise', {}, ['late', 'soon', 'begun', 'other']],
    ['the state', { state: 'in_review' }, ['begun']],
    ['minors', { players: 'minors' }, ['soon']],
    ['adults', { players: 'adults' }, ['late', 'begun', 'other']],
    ['overdue', { isOverdue: true }, ['late']],
    ['overdue, of what was returned', { filter: 'returned', isOverdue: true }, []],
    ['not paid', { isUnpaid: true }, ['other']],
    ['the version of the checklist', { checklist: 1 }, ['late', 'soon', 'begun', 'other']],
    ['a version that nobody uses', { checklist: 2 }, []],
    ['words of the question', { find: 'late fastb' }, ['late']],
    ['words of the name and of the question', { find: 'finch feet' }, ['soon']],
    ['a name with an apostrophe', { find: 'o’neil' }, ['late', 'begun', 'other']],
    ['no word at all', { find: '?!' }, []],
    ['several at once', { players: 'adults', state: 'submitted', isOverdue: true }, ['late']],
  ])('%s', async (_, query, names) => {
    expect(await ask(world.as.lead, query)).toEqual(names);
  });

  test('a coach, and nobody', async () => {
    expect(await ask(world.as.lead, { coachId: world.coach.id })).toEqual(['soon', 'begun']);
    expect(await ask(world.as.lead, { filter: 'open' })).toEqual(['late', 'other']);
    expect(await ask(world.as.coach, { filter: 'mine' })).toEqual(['soon', 'begun']);
  });

  test('what needs care is the same with and without being looked up before', async () => {
    const careIds = await listCare(world.as.lead, now);
    expect(careIds).toEqual([world.lessons.soon.id]);
    expect(await ask(world.as.lead, { filter: 'care' })).toEqual(['soon']);
    expect(await countDesk(world.as.lead, now, careIds)).toEqual({
      mine: 0,
      open: 2,
      all: 4,
      care: 1,
      returned: 1,
    });
    expect(await countDesk(world.as.lead, now)).toMatchObject({ care: 1 });
  });
});

describe('pages of the desk', () => {
  test('go on after the last row, also among equal promises and when that row has gone', async () => {
    const program = await buildProgram();
    const lead = await viewerOf(await buildLead(program), program);
    const player = await buildPlayer(program);
    const same = inHours(5);
    const made = [];
    for (let i = 0; i < 7; i += 1)
      made.push((await buildLesson(program, player, { promisedAt: i < 5 ? same : inHours(9) })).id);
    const seen: string[] = [];
    let after: DeskCursor | null = null;
    for (let page = 0; page < 4; page += 1) {
      const { rows, next }: Awaited<ReturnType<typeof readDesk>> = await readDesk(lead, {
        filter: 'all',
        now,
        take: 2,
        after,
      });
      seen.push(...rows.map(({ id }) => id));
      after = next;
      if (page === 0)
        await prisma.lesson.update({ where: { id: rows.at(-1)!.id }, data: { state: 'withdrawn' } });
    }
    expect(after).toBeNull();
    expect(new Set(seen).size).toBe(7);
    expect([...seen].sort()).toEqual([...made].sort());
  });

  test('returned lessons come latest first', async () => {
    const program = await buildProgram();
    const lead = await viewerOf(await buildLead(program), program);
    const player = await buildPlayer(program);
    const at = [1, 2, 2, 3].map((hours) => inHours(-hours));
    for (const returnedAt of at) await buildLesson(program, player, { state: 'returned', returnedAt });
    const first = await readDesk(lead, { filter: 'returned', now, take: 2 });
    const second = await readDesk(lead, { filter: 'returned', now, take: 2, after: first.next });
    expect([...first.rows, ...second.rows].map((row) => row.returnedAt)).toEqual(at);
    expect(second.next).toBeNull();
  });
});

describe('what lies with whom', () => {
  test('is counted by coach, with their own terms and checks', async () => {
    await buildCoachHours(world.program, world.coach, { promiseHours: 6 });
    const loads = await listLoads(world.as.lead, { now, endOfDay: inHours(4) });
    expect(loads.map(({ name }) => name)).toEqual(['Cole Coach', 'Lena Lead']);
    expect(loads[0]).toMatchObject({
      waiting: 1,
      inReview: 1,
      dueToday: 2,
      overdue: 0,
      isCleared: true,
      promiseHours: 6,
      own: null,
      returned: [{ submittedAt: world.lessons.back.submittedAt, returnedAt: world.lessons.back.returnedAt }],
    });
    expect(loads[1]).toMatchObject({ waiting: 0, inReview: 0, promiseHours: null, returned: [] });
  });

  test('what can be given out is what nobody has begun on', async () => {
    const { late, soon, begun, other } = world.lessons;
    const ids = async (asked: Parameters<typeof listToGiveOut>[1]) =>
      (await listToGiveOut(world.as.lead, asked)).map(({ id }) => id);
    expect(await ids(null)).toEqual([late.id, other.id]);
    expect(await ids([begun.id, soon.id])).toEqual([soon.id]);
    expect(await listToGiveOut(world.as.coach, null)).toEqual([]);
  });
});

describe('named lists', () => {
  test('are one’s own; the same name again shows something else; what the address does not mean is dropped', async () => {
    const { coach, lead } = world.as;
    await keepDeskView(coach, { name: 'Late', query: 'show=all&overdue=yes&after=x&color=red' });
    await keepDeskView(coach, { name: 'Late', query: 'overdue=yes&show=open' });
    const [view] = await listDeskViews(coach);
    expect(view).toMatchObject({ name: 'Late', query: 'show=open&overdue=yes' });
    expect(await listDeskViews(lead)).toEqual([]);
    await expect(removeDeskView(lead, view!.id)).rejects.toMatchObject({ fault: 'not-found' });
    await removeDeskView(coach, view!.id);
    expect(await listDeskViews(coach)).toEqual([]);
  });

  test('twelve are enough', async () => {
    const { lead } = world.as;
    for (let i = 0; i < 12; i += 1) await keepDeskView(lead, { name: `List ${i}`, query: 'show=all' });
    await expect(keepDeskView(lead, { name: 'One more', query: 'show=all' })).rejects.toMatchObject({
      fault: 'invalid',
    });
    await keepDeskView(lead, { name: 'List 3', query: 'show=open' });
    expect(await listDeskViews(lead)).toHaveLength(12);
  });
});
