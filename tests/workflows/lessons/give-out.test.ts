import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { readDesk } from '@/lib/data/desk.read';
import { readLesson } from '@/lib/data/lessons.read';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { assignLesson } from '@/lib/workflows/assign-lesson';
import { movePromise } from '@/lib/workflows/move-promise';
import { splitLessons } from '@/lib/workflows/split-lessons';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { buildCoach } from '../../support/build';
import { buildCoachHours } from '../../support/build-desk';
import { officeHours } from '../../support/office-hours';
import { viewerOf } from '../../support/viewers';
import { academy, auditOf, mailsTo, unfoldedLessons } from './academy';

const HOUR = 3_600_000;
const lessonOf = (id: string) => prisma.lesson.findUniqueOrThrow({ where: { id } });

describe('handing a lesson over', () => {
  test('the coach who gets it is told and reads the note; the player’s side does not', async () => {
    const { as, people, ports, send } = await academy();
    const { lessonId } = await send();
    await takeLesson(ports, as.coach, lessonId);
    const note = 'He asked about his hands twice.';
    await assignLesson(ports, as.coach, { lessonId, coachId: people.coach2.id, note: ` ${note} ` });

    const { rows } = await readDesk(as.coach2, { filter: 'mine', now: ports.clock.now() });
    expect(rows.map((row) => row.note)).toEqual([
      { words: note, by: { id: people.coach.id, name: 'Cole Coach' } },
    ]);
    expect((await mailsTo(people.coach2)).at(-1)).toMatchObject({
      kind: 'lesson-given',
      data: { byName: 'Cole Coach', path: '/desk' },
    });
    expect((await auditOf(lessonId)).slice(-2)).toEqual(['lesson.taken', 'lesson.assigned']);
    expect(JSON.stringify(await readLesson(as.player, lessonId))).not.toContain(note);
    expect(JSON.stringify(await mailsTo(people.player, people.coach2))).not.toContain(note);
    expect(await unfoldedLessons()).toEqual([]);
  });

  test('a note is for the coach it was written to: it is gone from the desk when the lesson goes on', async () => {
    const { as, people, ports, send } = await academy();
    const { lessonId } = await send();
    await assignLesson(ports, as.lead, { lessonId, coachId: people.coach.id, note: 'Be quick.' });
    await assignLesson(ports, as.coach, { lessonId, coachId: people.coach2.id });
    const { rows } = await readDesk(as.lead, { filter: 'all', now: ports.clock.now() });
    expect(rows.map((row) => row.note)).toEqual([null]);
  });

  test('to who has it already nothing is written twice', async () => {
    const { as, people, ports, send } = await academy();
    const { lessonId } = await send();
    const give = { lessonId, coachId: people.coach.id, note: 'Once.' };
    await assignLesson(ports, as.lead, give);
    await assignLesson(ports, as.lead, give);
    expect(await prisma.handOver.count({ where: { lessonId } })).toBe(1);
  });
});

describe('the promise when a lesson changes hands', () => {
  test('it stays when the coach says nothing of their own, however late it is taken', async () => {
    const { as, ports, send } = await academy();
    const { lessonId, promisedAt } = await send();
    ports.later(20 * HOUR);
    await takeLesson(ports, as.coach, lessonId);
    expect((await lessonOf(lessonId)).promisedAt).toEqual(promisedAt);
  });

  test('a coach who promises sooner brings it forward, counted from when they have it', async () => {
    const { as, people, ports, program, send } = await academy();
    await buildCoachHours(program, people.coach, { promiseHours: 12 });
    const { lessonId } = await send();
    ports.later(HOUR);
    await takeLesson(ports, as.coach, lessonId);
    expect((await lessonOf(lessonId)).promisedAt).toEqual(new Date(ports.clock.now().getTime() + 12 * HOUR));
    expect(await auditOf(lessonId)).toContain('promise.earlier');
  });

  test('it is never made later: not by a coach who is away, not by one who needs longer', async () => {
    const { as, people, ports, program, send } = await academy();
    const day = (inDays: number) =>
      new Date(ports.clock.now().getTime() + inDays * 24 * HOUR).toISOString().slice(0, 10);
    const away = {
      version: 1 as const,
      week: null,
      daysOff: officeHours({ from: day(-1), to: day(9), name: 'Away' }).daysOff,
    };
    await buildCoachHours(program, people.coach2, { promiseHours: 12, hours: away });
    const { lessonId, promisedAt } = await send();
    await assignLesson(ports, as.lead, { lessonId, coachId: people.coach2.id });
    expect((await lessonOf(lessonId)).promisedAt).toEqual(promisedAt);
    expect(await prisma.promiseMove.count({ where: { lessonId } })).toBe(0);
  });
});

describe('moving a promise', () => {
  const later = { local: '2027-03-14T18:30', reason: 'A storm took the line down.' };
  const march = new Date('2027-03-12T12:00:00Z');

  test('the player’s side is told, and the reason stands on the lesson', async () => {
    const { as, people, ports, send } = await academy({ start: march });
    const { lessonId, promisedAt } = await send();
    await takeLesson(ports, as.coach, lessonId);
    await movePromise(ports, as.coach, { lessonId, ...later });
    // Chicago is five hours behind UTC from that morning on (second Sunday of March; 15 U.S.C. 260a, from memory).
    const toAt = new Date('2027-03-14T23:30:00Z');
    expect(await readLesson(as.player, lessonId)).toMatchObject({
      promisedAt: toAt,
      moved: { from: promisedAt, reason: later.reason },
    });
    expect((await mailsTo(people.player)).map((mail) => mail.kind)).toContain('promise-moved');
    await movePromise(ports, as.coach, { lessonId, ...later });
    expect(await prisma.promiseMove.count({ where: { lessonId } })).toBe(1);
  });

  test.each([
    ['to an earlier time', '2027-03-13T09:00', 'later time only'],
    ['past two months', '2027-08-01T09:00', 'within 60 days'],
    ['to no time', 'soon', 'Write the new day'],
  ])('%s it is refused', async (_, local, words) => {
    const { as, ports, send } = await academy({ start: march });
    const { lessonId, promisedAt } = await send();
    await expect(movePromise(ports, as.lead, { lessonId, local, reason: 'A storm.' })).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining(words),
    });
    expect((await lessonOf(lessonId)).promisedAt).toEqual(promisedAt);
  });

  test('to a time that has passed it is refused', async () => {
    const { as, ports, send } = await academy({ start: march });
    const { lessonId } = await send();
    ports.later(100 * HOUR);
    await expect(movePromise(ports, as.lead, { lessonId, ...later })).rejects.toMatchObject({
      fault: 'invalid',
    });
  });

  test('only by the coach who has it or a lead, and only while it waits', async () => {
    const { as, ports, send, giveBack } = await academy({ start: march });
    const { lessonId } = await send();
    await expect(movePromise(ports, as.coach, { lessonId, ...later })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
    await expect(movePromise(ports, as.player, { lessonId, ...later })).rejects.toMatchObject({
      fault: 'not-found',
    });
    await giveBack(lessonId);
    await expect(movePromise(ports, as.lead, { lessonId, ...later })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });

  test('a minor whose guardian paused contact is not written to', async () => {
    const { as, people, ports, send } = await academy({ start: march, age: 12 });
    const { lessonId } = await send(null, as.guardian);
    await prisma.guardianship.updateMany({
      where: { playerId: people.player.id },
      data: { pausedAt: march },
    });
    await expect(movePromise(ports, as.lead, { lessonId, ...later })).rejects.toMatchObject({
      fault: 'safeguarding',
    });
  });
});

describe('giving out several at once', () => {
  const given = async () => {
    const world = await academy();
    const lessonIds: LessonId[] = [];
    for (let i = 0; i < 4; i += 1) lessonIds.push((await world.send()).lessonId);
    const to = (coachId: PersonId) => lessonIds.map((lessonId) => ({ lessonId, coachId, hadId: null }));
    return { ...world, lessonIds, to };
  };

  test('each goes where it was put, and sending it again changes nothing', async () => {
    const { as, lessonIds, people, ports, to } = await given();
    const givings = to(people.coach.id).map((one, i) =>
      i % 2 ? { ...one, coachId: people.coach2.id } : one,
    );
    expect((await splitLessons(ports, as.lead, { givings })).left).toEqual([]);
    expect(await splitLessons(ports, as.lead, { givings })).toEqual({
      given: [...lessonIds].sort(),
      left: [],
    });
    const rows = await Promise.all(lessonIds.map(lessonOf));
    expect(rows.map((row) => row.coachId)).toEqual(givings.map((one) => one.coachId));
    expect(await prisma.handOver.count({ where: { lessonId: { in: lessonIds } } })).toBe(4);
    expect(await unfoldedLessons()).toEqual([]);
  });

  test('what somebody else took or was given meanwhile is left alone and told of', async () => {
    const { as, lessonIds, people, ports, to } = await given();
    await takeLesson(ports, as.coach2, lessonIds[0]!);
    await assignLesson(ports, as.lead, { lessonId: lessonIds[1]!, coachId: people.coach2.id });
    const outcome = await splitLessons(ports, as.lead, { givings: to(people.coach.id) });
    expect(outcome.left.sort()).toEqual([lessonIds[0]!, lessonIds[1]!].sort());
    expect((await lessonOf(lessonIds[0]!)).coachId).toBe(people.coach2.id);
  });

  test('two leads at once, in opposite order, and coaches who take: each lesson ends with one of them', async () => {
    const { as, lessonIds, people, ports, to } = await given();
    const outcomes = await Promise.allSettled([
      splitLessons(ports, as.lead, { givings: to(people.coach.id) }),
      splitLessons(ports, as.lead, { givings: to(people.coach2.id).reverse() }),
      ...lessonIds.map((lessonId) => takeLesson(ports, as.coach, lessonId)),
      ...lessonIds.map((lessonId) => takeLesson(ports, as.coach2, lessonId)),
    ]);
    const unexpected = outcomes.filter(
      (one) => one.status === 'rejected' && (one.reason as { fault?: string }).fault !== 'wrong-state',
    );
    expect(unexpected).toEqual([]);
    const rows = await Promise.all(lessonIds.map(lessonOf));
    for (const row of rows) expect([people.coach.id, people.coach2.id]).toContain(row.coachId);
    expect(await unfoldedLessons()).toEqual([]);
  });

  test('a minor’s lesson never goes to a coach without checks, and then none of them does', async () => {
    const { as, people, ports, program, send } = await academy({ age: 12 });
    const unchecked = await buildCoach(program, { isCleared: false });
    const ids = [(await send(null, as.guardian)).lessonId, (await send(null, as.guardian)).lessonId].sort();
    const givings = [
      { lessonId: ids[0]!, coachId: people.coach.id, hadId: null },
      { lessonId: ids[1]!, coachId: unchecked.id, hadId: null },
    ];
    await expect(splitLessons(ports, as.lead, { givings })).rejects.toMatchObject({ fault: 'safeguarding' });
    expect((await Promise.all(ids.map(lessonOf))).map((row) => row.coachId)).toEqual([null, null]);
  });

  test('only a lead does it, to staff of the program, fifty at a time', async () => {
    const { as, people, ports, to } = await given();
    const other = await academy();
    const far = await viewerOf(other.people.lead, other.program);
    const no = { fault: 'not-found' };
    await expect(splitLessons(ports, as.coach, { givings: to(people.coach.id) })).rejects.toMatchObject(no);
    await expect(splitLessons(ports, as.lead, { givings: to(people.player.id) })).rejects.toMatchObject(no);
    await expect(splitLessons(ports, far, { givings: to(other.people.coach.id) })).rejects.toMatchObject(no);
    const many = Array.from({ length: 51 }, () => to(people.coach.id)[0]!);
    await expect(splitLessons(ports, as.lead, { givings: many })).rejects.toMatchObject({ fault: 'invalid' });
  });
});
