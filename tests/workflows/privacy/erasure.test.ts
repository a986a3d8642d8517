import { v7 as uuid } from 'uuid';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { findLogin } from '@/lib/data/sign-in.system';
import { listShown } from '@/lib/data/audit.read';
import { readLesson } from '@/lib/data/lessons.read';
import { readErasure } from '@/lib/data/subjects.read';
import { listReplies } from '@/lib/data/replies.read';
import { ERASED_REPLY, GRACE_DAYS } from '@/lib/domain/privacy/erasure';
import { askErasure } from '@/lib/workflows/ask-erasure';
import { cancelErasure } from '@/lib/workflows/cancel-erasure';
import { keepDeadlines } from '@/lib/workflows/keep-deadlines';
import { removeLetGo } from '@/lib/workflows/remove-let-go';
import { buildLesson, buildMember, buildPlayer, buildProgram, buildReply } from '../../support/build';
import { buildDrill } from '../../support/build-practice';
import { buildHold } from '../../support/build-privacy';
import { viewerOf } from '../../support/viewers';
import { inDays, openHousehold, storedDrillClip, system } from './household';

let home: Awaited<ReturnType<typeof openHousehold>>;
beforeEach(async () => {
  home = await openHousehold();
});
afterEach(() => home.close());

const night = (days = GRACE_DAYS + 1) => keepDeadlines(home.at(inDays(days)), system);
const ask = async (by: { id: string }, about: { id: string }) => {
  const id = uuid();
  await askErasure(home.ports, await viewerOf(by, home.program), { id, personId: about.id as never });
  return { id };
};
/** The tables in which an address stands: after an erasure it waits in the mail that says it is done, and goes with it. */
const addressed = (words: string, email: string | null) =>
  words
    .split('\n')
    .filter((line) => line.includes(`"${email}"`))
    .map((line) => line.split(' ')[0]);
/** Every word that anybody can find in the database, table by table. */
const everyWord = async (): Promise<string> => {
  const tables = await prisma.$queryRaw<{ name: string }[]>`
    SELECT table_name AS name FROM information_schema.tables
    WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name <> '_prisma_migrations'`;
  const found: string[] = [];
  for (const { name } of tables) {
    const rows = await prisma.$queryRawUnsafe<{ line: string }[]>(
      `SELECT to_jsonb(t)::text AS line FROM "${name}" t`,
    );
    found.push(...rows.map((row) => `${name} ${row.line}`));
  }
  return found.join('\n');
};

describe('a child, asked for by a guardian', () => {
  test('is told to the guardian and the leads at once, and nothing goes before its time', async () => {
    const before = await home.storage.list('');
    await ask(home.guardian, home.player);
    const told = await prisma.notice.findMany({ where: { kind: 'erasure-asked', playerId: home.player.id } });
    expect(told.map((one) => one.personId).sort()).toEqual(
      [home.guardian.id, home.lead.id, home.player.id].sort(),
    );
    await night(GRACE_DAYS - 1);
    expect(await home.storage.list('')).toEqual(
      before.filter((key) => !key.includes('export-') && !key.startsWith('documents/')),
    );
    expect(await prisma.person.count({ where: { id: home.player.id, erasedAt: null } })).toBe(1);
  });

  test('leaves no file of them in storage, and nothing of the other child goes', async () => {
    await ask(home.guardian, home.player);
    await night();
    expect(await home.keysOf(home.clip, home.breakdown, home.player, home.lesson)).toEqual([]);
    expect(await home.keysOf(home.siblingClip)).toHaveLength(5);
    const guardian = await viewerOf(home.guardian, home.program);
    expect(guardian.wards).toEqual([home.sibling.id]);
    expect(await readLesson(guardian, home.siblingLesson.id)).not.toBeNull();
    expect(await readLesson(guardian, home.lesson.id)).toBeNull();
  });

  test('leaves no word about them anywhere in the database', async () => {
    const [word, family] = [`word${uuid()}`, `Family${uuid()}`];
    await home.close();
    home = await openHousehold({ word, family });
    const { name, email } = await prisma.person.findUniqueOrThrow({ where: { id: home.player.id } });
    const found = (words: string) => words.split('\n').filter((line) => line.includes(word));
    // The same look finds it before, in many tables.
    expect(found(await everyWord()).length).toBeGreaterThan(8);
    await ask(home.guardian, home.player);
    await night();
    const words = await everyWord();
    expect(found(words)).toEqual([]);
    expect(words.split('\n').filter((line) => line.includes(name))).toEqual([]);
    expect(addressed(words, email)).toEqual(['OutboxMail']);
    expect(words).toContain(home.sibling.name);
  });

  test('keeps the ledger, the numbers of bills, and who saw what under a stand-in', async () => {
    const entries = await prisma.ledgerEntry.findMany({ where: { lessonId: home.lesson.id } });
    await ask(home.guardian, home.player);
    await night();
    const after = await prisma.ledgerEntry.findMany({ where: { lessonId: home.lesson.id } });
    expect(after.map(({ reason: _r, ...one }) => one)).toEqual(entries.map(({ reason: _r, ...one }) => one));
    const person = await prisma.person.findUniqueOrThrow({ where: { id: home.player.id } });
    expect(person).toMatchObject({
      name: 'A former player',
      email: null,
      birthDate: null,
      passwordHash: null,
    });
    expect(person.pseudonym).toMatch(/^[2-9A-Z]{10}$/);
    const lead = await viewerOf(home.lead, home.program);
    const shown = (await listShown(lead, home.player.id)).rows;
    expect(shown.map((line) => line.name)).toEqual(['Cole Coach']);
    const lines = await prisma.auditEntry.findMany({ where: { subject: `person:${home.player.id}` } });
    expect(lines.map((line) => line.action)).toEqual(
      expect.arrayContaining(['erasure.asked', 'person.erased', 'minor.shown']),
    );
    const mails = await prisma.outboxMail.findMany({
      where: { kind: 'erased', toEmail: { in: [home.guardian.email, home.lead.email].map(String) } },
    });
    expect(mails).toHaveLength(2);
  });

  test('that was taken back is not done, and everybody hears of it', async () => {
    const { id } = await ask(home.guardian, home.player);
    await cancelErasure(home.ports, await viewerOf(home.guardian, home.program), id);
    await cancelErasure(home.ports, await viewerOf(home.guardian, home.program), id);
    await night();
    expect(await home.keysOf(home.clip)).not.toEqual([]);
    const told = await prisma.notice.findMany({
      where: { kind: 'erasure-cancelled', playerId: home.player.id },
    });
    expect(told).toHaveLength(3);
  });

  test('asked for twice is one request', async () => {
    await ask(home.guardian, home.player);
    await ask(home.lead, home.player);
    expect(await prisma.erasureRequest.count({ where: { personId: home.player.id } })).toBe(1);
  });

  test('is done once by two workers, and its files by the next run when the first is killed', async () => {
    await ask(home.guardian, home.player);
    const dead = { ...home.storage, remove: () => Promise.reject(new Error('The machine went down.')) };
    const ports = { ...home.at(inDays(GRACE_DAYS + 1)), storage: dead };
    await Promise.all(
      [keepDeadlines(ports, system), keepDeadlines(ports, system)].map((one) => one.catch(() => {})),
    );
    expect(
      await prisma.auditEntry.count({
        where: { action: 'person.erased', subject: `person:${home.player.id}` },
      }),
    ).toBe(1);
    expect(await home.keysOf(home.clip)).not.toEqual([]);
    await removeLetGo(home.ports, system);
    expect(await home.keysOf(home.clip, home.breakdown)).toEqual([]);
  });

  test('waits while a legal hold stands, and says so', async () => {
    const hold = await buildHold(home.program, home.player, home.lead);
    await ask(home.guardian, home.player);
    expect(await readErasure(await viewerOf(home.guardian, home.program), home.player.id)).toMatchObject({
      isHeldBack: true,
      doneAt: null,
    });
    await night();
    expect(await home.keysOf(home.clip)).not.toEqual([]);
    expect(await prisma.erasureRequest.count({ where: { personId: home.player.id, doneAt: null } })).toBe(1);
    await prisma.legalHold.update({ where: { id: hold.id }, data: { endedAt: new Date() } });
    await night();
    expect(await home.keysOf(home.clip)).toEqual([]);
  });
});

describe('who may ask', () => {
  test.each(['player', 'coach'] as const)('not the %s', async (who) => {
    await expect(ask(home[who], home.player)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('not a guardian of somebody else, nor a lead of another program', async () => {
    const far = await buildProgram();
    const stranger = await buildMember(home.program, ['guardian']);
    await expect(ask(stranger, home.player)).rejects.toMatchObject({ fault: 'not-found' });
    const lead = await buildMember(far, ['lead']);
    await expect(
      askErasure(home.ports, await viewerOf(lead, far), { id: uuid(), personId: home.player.id }),
    ).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('a grown player does, and can sign in no more', async () => {
    const adult = await buildPlayer(home.program, { age: 20 });
    await ask(adult, adult);
    await night();
    expect(await findLogin(system, adult.email ?? '')).toBeNull();
    await expect(viewerOf(adult, home.program)).rejects.toThrow();
  });

  test('not the only lead of a program', async () => {
    await expect(ask(home.lead, home.lead)).rejects.toMatchObject({ fault: 'wrong-state' });
  });

  test('and a lead who became the only one meanwhile stays until there is another', async () => {
    const second = await buildMember(home.program, ['lead']);
    await ask(second, second);
    await prisma.membership.deleteMany({ where: { personId: home.lead.id, role: 'lead' } });
    await night();
    expect(await prisma.person.count({ where: { id: second.id, erasedAt: null } })).toBe(1);
  });
});

describe('a guardian', () => {
  test('stands nowhere by name or address any more', async () => {
    await home.close();
    home = await openHousehold({ family: `Family${uuid()}` });
    const { name, email } = home.guardian;
    await prisma.notice.create({
      data: {
        ...{ id: uuid(), programId: home.program.id, personId: home.coach.id, playerId: home.sibling.id },
        ...{ kind: 'reply', data: { authorName: name }, path: `/lessons/${home.siblingLesson.id}` },
      },
    });
    await ask(home.guardian, home.guardian);
    await night();
    const words = await everyWord();
    expect(words.split('\n').filter((line) => line.includes(name))).toEqual([]);
    expect(addressed(words, email)).toEqual(['OutboxMail']);
  });

  test('takes their words along, and the child stays without a guardian', async () => {
    await ask(home.guardian, home.guardian);
    await night();
    const lead = await viewerOf(home.lead, home.program);
    const replies = (await listReplies(lead, home.lesson.id)).rows;
    expect(
      replies.map(({ author, body, earlier }) => [author.name, body, earlier.map((one) => one.body)]),
    ).toEqual([
      ['A former guardian', ERASED_REPLY, ['']],
      ['Cole Coach', 'Rest the elbow.', []],
    ]);
    expect(await home.keysOf(home.clip)).not.toEqual([]);
    const document = await prisma.billingDocument.findUniqueOrThrow({ where: { id: home.document.id } });
    const { pseudonym } = await prisma.person.findUniqueOrThrow({ where: { id: home.guardian.id } });
    expect(document.facts).toMatchObject({ payerName: `A former payer (${pseudonym})` });
    expect(await prisma.guardianship.count({ where: { playerId: home.player.id } })).toBe(0);
  });

  test('who is beside a held child waits too', async () => {
    await buildHold(home.program, home.player, home.lead);
    await ask(home.guardian, home.guardian);
    await night();
    expect(await prisma.person.count({ where: { id: home.guardian.id, erasedAt: null } })).toBe(1);
  });
});

describe('a coach', () => {
  test('is seen in no clip of a drill any more; those of others and of nobody stay the program’s', async () => {
    const { storage, coach, lead, program } = home;
    const clipOf = async (sender: { id: string }, shows: 'nobody' | 'sender' | 'adult') =>
      storedDrillClip(storage, await buildDrill(program), sender, { shows });
    const mine = await clipOf(coach, 'sender');
    const stay = [await clipOf(coach, 'adult'), await clipOf(coach, 'nobody'), await clipOf(lead, 'sender')];
    await ask(coach, coach);
    await night();
    expect(await home.keysOf(mine)).toEqual([]);
    for (const clip of stay) expect(await home.keysOf(clip)).toHaveLength(3);
  });

  test('leaves the lessons readable, by a former coach, and gives work back to the desk', async () => {
    const open = await buildLesson(home.program, home.sibling, {
      state: 'in_review',
      coachId: home.coach.id,
      startedById: home.guardian.id,
    });
    await ask(home.coach, home.coach);
    await night();
    const guardian = await viewerOf(home.guardian, home.program);
    const lesson = await readLesson(guardian, home.lesson.id);
    expect(lesson?.coach?.name).toBe('A former coach');
    const [, answer] = (await listReplies(guardian, home.lesson.id)).rows;
    expect(answer).toMatchObject({ author: { name: 'A former coach' }, body: 'Rest the elbow.' });
    expect(await home.keysOf(home.breakdown)).not.toEqual([]);
    expect(await home.keysOf(home.remark)).toEqual([]);
    const row = await prisma.lesson.findUniqueOrThrow({ where: { id: open.id } });
    expect(row).toMatchObject({ state: 'submitted', coachId: null });
    const shown = (await listShown(guardian, home.player.id)).rows;
    const { pseudonym } = await prisma.person.findUniqueOrThrow({ where: { id: home.coach.id } });
    expect(shown.map((line) => line.name)).toEqual([`A former coach (${pseudonym})`]);
  });

  test('of a held player stays known', async () => {
    await buildHold(home.program, home.player, home.lead);
    await ask(home.coach, home.coach);
    await night();
    expect(await prisma.person.count({ where: { id: home.coach.id, name: 'Cole Coach' } })).toBe(1);
  });
});

test('somebody of two programs leaves one of them, and keeps name and login in the other', async () => {
  const far = await buildProgram();
  const adult = await buildPlayer(home.program, { age: 20, name: 'Ada Both' });
  await prisma.membership.create({ data: { programId: far.id, personId: adult.id, role: 'player' } });
  const lesson = await buildLesson(home.program, adult, { state: 'returned', coachId: home.coach.id });
  await buildReply(lesson, adult);
  const before = await prisma.person.findUniqueOrThrow({ where: { id: adult.id } });
  await ask(adult, adult);
  await night();
  const after = await prisma.person.findUniqueOrThrow({ where: { id: adult.id } });
  expect(after).toMatchObject({ name: 'Ada Both', email: before.email, erasedAt: null });
  expect(after.sessionVersion).toBe(before.sessionVersion + 1);
  expect((await prisma.lesson.findUniqueOrThrow({ where: { id: lesson.id } })).question).toBe('');
  expect((await viewerOf(adult, far)).roles).toEqual(['player']);
});
