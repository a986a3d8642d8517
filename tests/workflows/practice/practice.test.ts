import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { listDrills } from '@/lib/data/drills.read';
import { listGiven } from '@/lib/data/practice.read';
import { plainDose } from '@/lib/domain/drills/dose';
import type { AssignmentId, DrillId } from '@/lib/domain/drills/drill';
import type { CheckInWords } from '@/lib/domain/drills/practice';
import { dayIn } from '@/lib/domain/people/age';
import type { SheetAssignment } from '@/lib/domain/review/sheet';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { checkIn } from '@/lib/workflows/check-in';
import { confirmPracticeSafety } from '@/lib/workflows/confirm-practice-safety';
import { fillDrills } from '@/lib/workflows/fill-drills';
import { reopenLesson } from '@/lib/workflows/reopen-lesson';
import { resumePractice } from '@/lib/workflows/resume-practice';
import { retireDrill } from '@/lib/workflows/retire-drill';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { saveDrill } from '@/lib/workflows/save-drill';
import { saveSheet } from '@/lib/workflows/save-sheet';
import { sayCleared } from '@/lib/workflows/say-cleared';
import { startLesson } from '@/lib/workflows/start-lesson';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { buildPlayer, buildProgram } from '../../support/build';
import { buildDrill } from '../../support/build-practice';
import { viewerOf } from '../../support/viewers';
import { academy, fullDraft, mailsTo, readySheet } from '../lessons/academy';

const refusal = (fault: string) => expect.objectContaining({ fault });

/** An academy with a returned lesson that gives these drills. */
async function practising({ age = 24, count = 2 }: { age?: number; count?: number } = {}) {
  const made = await academy({ age });
  const { ports, as, people } = made;
  const sender = age < 13 ? as.guardian : as.player;
  await fillDrills(ports, as.coach);
  const drills = (await listDrills(as.coach)).rows;
  const give = (index: number, over: Partial<SheetAssignment> = {}): SheetAssignment => ({
    id: uuid(),
    drillId: String(drills[index]!.id),
    dose: plainDose('tee', { x: 0.4, y: 0 }),
    cue: '',
    swingBy: null,
    ...over,
  });
  const backWith = async (lessonId: LessonId, given: SheetAssignment[]) => {
    await takeLesson(ports, as.coach, lessonId);
    const kept = await prisma.review.findUnique({ where: { lessonId }, select: { revision: true } });
    const baseRevision = kept?.revision ?? 0;
    const sheet = { ...readySheet(), assignments: given };
    await saveSheet(ports, as.coach, { lessonId, baseRevision, sheet });
    return returnLesson(ports, as.coach, { lessonId, revision: baseRevision + 1 });
  };
  const given = Array.from({ length: count }, (_, index) => give(index));
  const { lessonId } = await made.send(null, sender);
  await backWith(lessonId, given);
  const playerId = people.player.id as PersonId;
  const [first] = given.map((one) => one.id as unknown as AssignmentId);
  const said = (over: Partial<CheckInWords> = {}): CheckInWords => ({
    day: dayIn(made.program.timeZone, ports.clock.now()),
    setsDone: 2,
    repsDone: 16,
    feel: 4,
    note: '',
    painLevel: 0,
    painWhere: null,
    ...over,
  });
  const open = () => listGiven(as.coach, { playerId });
  return { ...made, sender, lessonId, given, give, backWith, playerId, first: first!, said, open };
}

describe('drills given with a lesson', () => {
  test('become the player’s when it is returned; a later return changes and ends them', async () => {
    const { as, ports, lessonId, given, give, backWith, open } = await practising();
    expect((await open()).map((one) => String(one.id))).toEqual(given.map((one) => one.id));
    await reopenLesson(ports, as.coach, { lessonId, reason: 'one too many' });
    const added = give(2, { swingBy: '2030-01-14' });
    await backWith(lessonId, [{ ...given[1]!, cue: 'Belt to the mound' }, added]);
    expect((await open()).map(({ id, cue, swingBy }) => [String(id), cue, swingBy])).toEqual(
      expect.arrayContaining([
        [given[1]!.id, 'Belt to the mound', null],
        [added.id, '', '2030-01-14'],
      ]),
    );
    expect(await open()).toHaveLength(2);
    expect(await listGiven(as.player, { lessonId })).toHaveLength(3);
  });

  test('end when a later lesson gives drills, and go on when it gives none', async () => {
    const { send, backWith, give, open, lessonId, given } = await practising();
    const second = await send(lessonId);
    await backWith(second.lessonId, []);
    expect((await open()).map((one) => String(one.id))).toEqual(given.map((one) => one.id));
    const third = await send(second.lessonId);
    const next = give(3);
    await backWith(third.lessonId, [next]);
    expect((await open()).map((one) => String(one.id))).toEqual([next.id]);
  });

  test('are refused when the drill is another program’s, or the id another lesson’s; the lesson stays', async () => {
    const { send, backWith, give, given, lessonId } = await practising();
    const far = await buildDrill(await buildProgram());
    const second = await send(lessonId);
    await expect(backWith(second.lessonId, [give(0, { drillId: String(far.id) })])).rejects.toEqual(
      refusal('invalid'),
    );
    await expect(backWith(second.lessonId, [given[0]!])).rejects.toEqual(refusal('invalid'));
    const { state } = await prisma.lesson.findUniqueOrThrow({ where: { id: second.lessonId } });
    expect(state).toBe('in_review');
  });
});

describe('a check-in', () => {
  test('waits for confirmed safety, is one however often it is sent, and stays its sender’s', async () => {
    const { ports, as, first, said, open, playerId, program } = await practising();
    const one = { id: uuid(), assignmentId: first, said: said() };
    await expect(checkIn(ports, as.player, one)).rejects.toEqual(refusal('wrong-state'));
    await confirmPracticeSafety(ports, as.player, { playerId, adult: '' });
    await confirmPracticeSafety(ports, as.player, { playerId, adult: '' }); // again: nothing changes
    expect(await checkIn(ports, as.player, one)).toEqual({ isPaused: false });
    await Promise.all([checkIn(ports, as.player, one), checkIn(ports, as.player, one)]);
    const kept = (await open()).find((given) => given.id === first);
    expect(kept?.checkIns).toMatchObject([{ id: one.id, repsDone: 16, painLevel: 0 }]);
    await expect(checkIn(ports, as.coach, { ...one, id: uuid() })).rejects.toEqual(refusal('not-found'));
    const other = await viewerOf(await buildPlayer(program), program);
    await expect(checkIn(ports, other, { ...one, id: uuid() })).rejects.toEqual(refusal('not-found'));
    const wrongDay = { ...one, id: uuid(), said: said({ day: '2031-01-01' as never }) };
    await expect(checkIn(ports, as.player, wrongDay)).rejects.toEqual(refusal('invalid'));
  });

  test('with the least pain pauses every drill at once and tells coach and player’s side', async () => {
    const { ports, as, people, given, said, open } = await practising({ age: 15 });
    const before = (await mailsTo(people.coach, people.guardian)).length;
    const last = given[1]!.id as unknown as AssignmentId;
    // Safety was never confirmed: a report of pain is taken all the same.
    const hurts = { id: uuid(), assignmentId: last, said: said({ painLevel: 1, painWhere: 'elbow' }) };
    expect(await checkIn(ports, as.player, hurts)).toEqual({ isPaused: true });
    expect((await open()).map((one) => [one.pausedAt !== null, one.pauseReason])).toEqual([
      [true, 'pain'],
      [true, 'pain'],
    ]);
    const told = (await mailsTo(people.coach, people.guardian)).slice(before);
    expect(new Set(told.map((mail) => mail.toEmail))).toEqual(
      new Set([people.coach.email, people.guardian.email]),
    );
    expect(new Set(told.map((mail) => mail.kind))).toEqual(new Set(['pain-reported']));
    await checkIn(ports, as.player, hurts); // sent twice: told once
    expect((await mailsTo(people.coach, people.guardian)).slice(before)).toHaveLength(told.length);
  });

  test('of pain and a return at the same moment leave nothing unpaused', async () => {
    const { ports, as, send, backWith, give, first, said, open } = await practising();
    const second = await send();
    await Promise.all([
      backWith(second.lessonId, [give(3), give(4)]),
      checkIn(ports, as.player, {
        id: uuid(),
        assignmentId: first,
        said: said({ painLevel: 3, painWhere: 'lower back' }),
      }),
    ]);
    expect((await open()).filter((one) => one.pausedAt === null)).toEqual([]);
  });

  test('for a child is a guardian’s, with an adult named', async () => {
    const { ports, as, first, said, playerId, program, people } = await practising({ age: 10 });
    const child = await viewerOf(people.player, program);
    const safety = (viewer: typeof child, adult: string) =>
      confirmPracticeSafety(ports, viewer, { playerId, adult });
    await expect(safety(child, 'Marta')).rejects.toEqual(refusal('safeguarding'));
    await expect(safety(as.guardian, ' ')).rejects.toEqual(refusal('invalid'));
    await safety(as.guardian, 'Marta');
    const one = { id: uuid(), assignmentId: first, said: said() };
    await expect(checkIn(ports, child, one)).rejects.toEqual(refusal('safeguarding'));
    expect(await checkIn(ports, as.guardian, one)).toEqual({ isPaused: false });
  });
});

describe('after pain', () => {
  test('only the coach opens practice, and only on the word of the player’s side', async () => {
    const { ports, as, first, said, open, playerId } = await practising({ age: 15 });
    const report = () =>
      checkIn(ports, as.player, {
        id: uuid(),
        assignmentId: first,
        said: said({ painLevel: 4, painWhere: 'hand or wrist' }),
      });
    await expect(sayCleared(ports, as.guardian, playerId)).rejects.toEqual(refusal('wrong-state'));
    await report();
    await expect(resumePractice(ports, as.coach, playerId)).rejects.toEqual(refusal('wrong-state'));
    await expect(sayCleared(ports, as.player, playerId)).rejects.toEqual(refusal('safeguarding'));
    await expect(sayCleared(ports, as.coach, playerId)).rejects.toEqual(refusal('not-found'));
    await sayCleared(ports, as.guardian, playerId);
    expect((await open()).every((one) => one.pausedAt !== null)).toBe(true);
    await expect(resumePractice(ports, as.guardian, playerId)).rejects.toEqual(refusal('not-found'));
    await report(); // it hurts again: the word counts no more
    await expect(resumePractice(ports, as.coach, playerId)).rejects.toEqual(refusal('wrong-state'));
    await sayCleared(ports, as.guardian, playerId);
    await resumePractice(ports, as.coach, playerId);
    expect((await open()).every((one) => one.pausedAt === null)).toBe(true);
    const audit = await prisma.auditEntry.findMany({
      where: { subject: `person:${playerId}`, action: { startsWith: 'practice.' } },
      orderBy: { id: 'asc' },
    });
    expect(audit.map((entry) => entry.action)).toEqual([
      'practice.paused',
      'practice.said-cleared',
      'practice.paused',
      'practice.said-cleared',
      'practice.resumed',
    ]);
  });

  test('told with a new swing, drills pause too, and those given with it start paused', async () => {
    const { ports, as, begin, backWith, give, open, lessonId } = await practising();
    const second = await begin(lessonId);
    const draft = fullDraft({ painLevel: 2, painWhere: 'side or ribs' });
    await submitLesson(ports, as.player, { lessonId: second, draft });
    expect((await open()).every((one) => one.pauseReason === 'pain')).toBe(true);
    await backWith(second, [give(3)]);
    expect((await open()).map((one) => one.pauseReason)).toEqual(['pain']);
  });
});

test('a swing that was asked for is linked to its drill', async () => {
  const { ports, as, begin, lessonId, first, playerId, open } = await practising();
  const id = await begin(lessonId);
  await startLesson(as.player, { lessonId: id, playerId, followsId: lessonId, answersId: first });
  expect((await open()).find((one) => one.id === first)?.hasSwing).toBe(false); // not sent yet
  await submitLesson(ports, as.player, { lessonId: id, draft: fullDraft() });
  expect((await open()).find((one) => one.id === first)?.hasSwing).toBe(true);
  const stranger = { lessonId: id, playerId, followsId: null, answersId: uuid() as unknown as AssignmentId };
  await expect(startLesson(as.player, stranger)).rejects.toEqual(refusal('not-found'));
});

test('the library: filled once, a new version keeps what was given, a retired drill is not offered', async () => {
  const { ports, as, open, given } = await practising();
  const before = (await listDrills(as.coach)).rows;
  expect(await fillDrills(ports, as.coach)).toBe(0);
  const old = before.find((drill) => String(drill.id) === given[0]!.drillId)!;
  const { id: _id, seriesId: _series, number: _number, ...text } = old;
  const next = await saveDrill(ports, as.coach, {
    drill: { ...text, title: 'Renamed' },
    replaces: old.id,
  });
  const after = (await listDrills(as.coach)).rows;
  expect(after).toHaveLength(before.length);
  expect(after.find((drill) => drill.id === next)).toMatchObject({
    title: 'Renamed',
    number: 2,
    seriesId: old.seriesId,
  });
  expect((await open()).map((one) => one.drill.title)).toContain(old.title);
  await expect(saveDrill(ports, as.coach, { drill: text, replaces: old.id })).rejects.toEqual(
    refusal('conflict'),
  );
  await expect(
    saveDrill(ports, as.coach, { drill: { ...text, title: ' ' }, replaces: null }),
  ).rejects.toEqual(refusal('invalid'));
  await retireDrill(ports, as.coach, next);
  expect((await listDrills(as.coach)).rows).toHaveLength(before.length - 1);
  const work = [
    fillDrills(ports, as.player),
    saveDrill(ports, as.player, { drill: text, replaces: null }),
    retireDrill(ports, as.player, next as DrillId),
  ];
  for (const one of await Promise.allSettled(work)) {
    expect(one).toMatchObject({ status: 'rejected', reason: refusal('not-found') });
  }
});
