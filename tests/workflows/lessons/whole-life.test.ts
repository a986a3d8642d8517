import { v7 as uuid } from 'uuid';
import { afterAll, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { readDesk } from '@/lib/data/desk.read';
import { readDraft, readLesson } from '@/lib/data/lessons.read';
import { readSheet } from '@/lib/data/reviews.read';
import { listReplies } from '@/lib/data/replies.read';
import { readThread } from '@/lib/data/threads.read';
import type { ReplyId } from '@/lib/domain/shared/ids';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import { emptySheet } from '@/lib/domain/review/sheet';
import { closeLesson } from '@/lib/workflows/close-lesson';
import { editReply } from '@/lib/workflows/edit-reply';
import { openLesson } from '@/lib/workflows/open-lesson';
import { reopenLesson } from '@/lib/workflows/reopen-lesson';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { saveDraft } from '@/lib/workflows/save-draft';
import { saveSheet } from '@/lib/workflows/save-sheet';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { academy, auditOf, fullDraft, mailsTo, readySheet, unfoldedLessons } from './academy';

const HOUR = 3_600_000;

// Whatever the tests of this file did, on the way and in the end: what is kept is what the events say.
afterAll(async () => {
  expect(await unfoldedLessons()).toEqual([]);
});

test(
  'a swing goes out, comes back, is answered, and the next one follows',
  { timeout: 120_000 },
  async () => {
    const { people, as, ports, begin, giveBack, send } = await academy();

    const lessonId = await begin();
    const draft = fullDraft();
    await saveDraft(ports, as.player, { lessonId, draft: { ...draft, question: '' } });
    expect((await readDraft(as.player, lessonId))?.draft).toEqual({ ...draft, question: '' });
    expect(await readLesson(as.coach, lessonId)).toBeNull();

    const before = ports.clock.now();
    const sent = await submitLesson(ports, as.player, { lessonId, draft });
    expect(sent).toEqual({ number: 1, promisedAt: new Date(before.getTime() + 48 * HOUR) });
    expect(await readLesson(as.coach, lessonId)).toMatchObject({
      state: 'submitted',
      question: draft.question,
      price: { label: 'One lesson', amountMinor: 4500, currency: 'USD' },
      account: { status: 'due', owedMinor: 4500 },
    });
    expect(ports.jobs).toEqual(['drain']);

    await takeLesson(ports, as.coach, lessonId);
    await takeLesson(ports, as.coach, lessonId); // again: nothing changes
    await saveSheet(ports, as.coach, { lessonId, baseRevision: 0, sheet: readySheet() });
    ports.later(HOUR);
    const told = await returnLesson(ports, as.coach, { lessonId, revision: 1 });
    const { id: personId, email } = people.player;
    expect(told).toEqual([{ personId, name: 'Wren Sample', email, at: ports.clock.now() }]);
    const back = await readLesson(as.player, lessonId);
    expect(back).toMatchObject({
      state: 'returned',
      returned: { number: 1, by: { name: 'Cole Coach' } },
      seen: [],
    });
    expect(back?.returned?.sheet).toEqual(readySheet());

    ports.later(HOUR);
    await openLesson(ports, as.player, lessonId);
    expect((await readLesson(as.coach, lessonId))?.seen).toEqual([
      { id: people.player.id, name: 'Wren Sample', at: ports.clock.now() },
    ]);

    const next = await send(lessonId);
    expect(next.number).toBe(2);
    expect(await readLesson(as.player, lessonId)).toMatchObject({
      state: 'closed',
      followUp: { id: next.lessonId, number: 2 },
    });
    const { rows } = await readDesk(as.coach, { filter: 'all', now: ports.clock.now() });
    expect(rows).toMatchObject([
      { id: next.lessonId, follows: { number: 1, fixFirst: readySheet().fixFirst?.sentence } },
    ]);
    await giveBack(next.lessonId, as.coach2);

    const thread = await readThread(as.player, people.player.id);
    expect(thread?.lessons.map((lesson) => [lesson.number, lesson.state])).toEqual([
      [2, 'returned'],
      [1, 'closed'],
    ]);
    await closeLesson(ports, as.player, next.lessonId);
    expect(await auditOf(lessonId)).toEqual([
      'lesson.started',
      'lesson.submitted',
      'lesson.taken',
      'lesson.returned',
    ]);
  },
);

describe('returning', () => {
  test('is refused for each thing that is missing, and keeps everything', async () => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    await takeLesson(ports, as.coach, lessonId);
    const { answers, fixFirst } = readySheet();
    const steps = [
      [emptySheet(), 'Choose the one thing to fix first. Judge at least one item of the checklist.'],
      [{ ...emptySheet(), answers }, 'Choose the one thing to fix first.'],
      [{ ...emptySheet(), fixFirst }, 'Judge at least one item of the checklist.'],
      [{ ...emptySheet(), answers, fixFirst: { ...fixFirst!, sentence: ' ' } }, 'Say in one sentence'],
      [
        { ...emptySheet(), answers, fixFirst: { ...fixFirst!, itemId: 'long-gone' } },
        'not on this checklist any more',
      ],
    ] as const;
    for (const [index, [sheet, words]] of steps.entries()) {
      await saveSheet(ports, as.coach, { lessonId, baseRevision: index, sheet });
      await expect(returnLesson(ports, as.coach, { lessonId, revision: index + 1 })).rejects.toMatchObject({
        fault: 'invalid',
        forPeople: expect.stringContaining(words),
      });
      expect((await readSheet(as.coach, lessonId))?.sheet).toEqual(sheet);
    }
    expect(await prisma.return.count({ where: { lessonId } })).toBe(0);
    expect((await readLesson(as.coach, lessonId))?.state).toBe('in_review');
  });

  test('a sheet that changed in another window is looked at again first', async () => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    await saveSheet(ports, as.coach, { lessonId, baseRevision: 0, sheet: readySheet('One') });
    await saveSheet(ports, as.coach, { lessonId, baseRevision: 1, sheet: readySheet('Two') });
    await expect(returnLesson(ports, as.coach, { lessonId, revision: 1 })).rejects.toMatchObject({
      fault: 'conflict',
    });
  });

  test('straight from the desk takes it on the way, and the mail names who returned it', async () => {
    const { people, as, ports, send } = await academy();
    const { lessonId } = await send();
    await saveSheet(ports, as.coach2, { lessonId, baseRevision: 0, sheet: readySheet() });
    await returnLesson(ports, as.coach2, { lessonId, revision: 1 });
    expect((await readLesson(as.player, lessonId))?.events.map((event) => event.kind)).toEqual([
      'created',
      'submitted',
      'taken',
      'returned',
    ]);
    const mails = await mailsTo(people.player);
    expect(mails.at(-1)).toMatchObject({ kind: 'lesson-returned', data: { coachName: 'Dana Coach' } });
  });

  test('twice is once', async () => {
    const { people, as, ports, send, giveBack } = await academy();
    const { lessonId } = await send();
    const told = await giveBack(lessonId);
    expect(await returnLesson(ports, as.coach, { lessonId, revision: 1 })).toEqual(told);
    await expect(returnLesson(ports, as.coach2, { lessonId, revision: 1 })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
    expect(await prisma.return.count({ where: { lessonId } })).toBe(1);
    const mails = await mailsTo(people.player);
    expect(mails.filter((mail) => mail.kind === 'lesson-returned')).toHaveLength(1);
  });
});

describe('the sheet of a review', () => {
  test('a save over somebody else’s is answered with theirs, and overwrites nothing', async () => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    const mine = readySheet('Mine.');
    const theirs = readySheet('Theirs.');
    expect(await saveSheet(ports, as.coach2, { lessonId, baseRevision: 0, sheet: theirs })).toMatchObject({
      kind: 'kept',
      revision: 1,
    });
    expect(await saveSheet(ports, as.coach, { lessonId, baseRevision: 0, sheet: mine })).toMatchObject({
      kind: 'conflict',
      revision: 1,
      sheet: theirs,
      updatedBy: { name: 'Dana Coach' },
    });
    expect((await readSheet(as.coach, lessonId))?.sheet).toEqual(theirs);
  });

  test('of two windows that save at once one is kept and one is told', async () => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    const outcomes = await Promise.all(
      [as.coach, as.coach2].map((viewer) =>
        saveSheet(ports, viewer, { lessonId, baseRevision: 0, sheet: readySheet(viewer.personId) }),
      ),
    );
    expect(outcomes.map((outcome) => outcome.kind).sort()).toEqual(['conflict', 'kept']);
    expect((await readSheet(as.coach, lessonId))?.revision).toBe(1);
  });

  test('is closed once the lesson is returned', async () => {
    const { as, ports, send, giveBack } = await academy();
    const { lessonId } = await send();
    await giveBack(lessonId);
    await expect(
      saveSheet(ports, as.coach, { lessonId, baseRevision: 1, sheet: emptySheet() }),
    ).rejects.toMatchObject({ fault: 'wrong-state' });
    expect((await readSheet(as.coach, lessonId))?.sheet).toEqual(readySheet());
  });
});

describe('reopening', () => {
  test('needs a reason, keeps it in the history, and the player goes on reading what was returned', async () => {
    const { as, ports, send, giveBack } = await academy();
    const { lessonId } = await send();
    await giveBack(lessonId);
    await openLesson(ports, as.player, lessonId);
    await expect(reopenLesson(ports, as.coach, { lessonId, reason: '  ' })).rejects.toMatchObject({
      fault: 'invalid',
    });
    ports.later(HOUR);
    await reopenLesson(ports, as.coach, { lessonId, reason: ' The wrong clip ' });
    await saveSheet(ports, as.coach, { lessonId, baseRevision: 1, sheet: readySheet('Land softer.') });
    const meanwhile = await readLesson(as.player, lessonId);
    expect(meanwhile).toMatchObject({ state: 'in_review', returned: { number: 1, sheet: readySheet() } });
    expect(meanwhile?.events.at(-1)).toMatchObject({
      kind: 'reopened',
      reason: 'The wrong clip',
      actor: { name: 'Cole Coach' },
    });

    ports.later(HOUR);
    await returnLesson(ports, as.coach, { lessonId, revision: 2 });
    // What is new was not seen yet, though what stood there before was.
    expect(await readLesson(as.coach, lessonId)).toMatchObject({ returned: { number: 2 }, seen: [] });
    const desk = () => readDesk(as.coach, { filter: 'returned', now: ports.clock.now() });
    expect((await desk()).rows).toMatchObject([{ id: lessonId, isSeen: false }]);
    ports.later(HOUR);
    await openLesson(ports, as.player, lessonId);
    const first = ports.clock.now();
    ports.later(HOUR);
    await openLesson(ports, as.player, lessonId);
    expect((await readLesson(as.coach, lessonId))?.seen).toMatchObject([{ name: 'Wren Sample', at: first }]);
    expect((await desk()).rows).toMatchObject([{ isSeen: true }]);
    const returns = await prisma.return.findMany({ where: { lessonId }, orderBy: { number: 'asc' } });
    expect(returns.map((one) => one.fixFirst)).toEqual([readySheet().fixFirst?.sentence, 'Land softer.']);
  });

  test('one coach reopens what the player answers with a new swing at the same moment: the history stays possible', async () => {
    const { as, ports, begin, send, giveBack } = await academy();
    for (let round = 0; round < 4; round += 1) {
      const { lessonId } = await send();
      await giveBack(lessonId);
      const next = await begin(lessonId);
      await Promise.all([
        submitLesson(ports, as.player, { lessonId: next, draft: fullDraft() }),
        reopenLesson(ports, as.coach, { lessonId, reason: 'One more look' }),
      ]);
      // Either it was closed first and then reopened, or it was in review and is not closed under the coach.
      expect((await readLesson(as.coach, lessonId))?.state).toBe('in_review');
    }
    expect(await unfoldedLessons()).toEqual([]);
  });
});

describe('replies', () => {
  test('by all on the thread, each unread for the others until they open the lesson', async () => {
    const { people, as, ports, send, giveBack } = await academy({ age: 15 });
    const { lessonId } = await send();
    await giveBack(lessonId);
    const all = [as.player, as.guardian, as.coach, as.lead];
    for (const viewer of all) {
      ports.later(60_000);
      await replyInThread(ports, viewer, { id: uuid(), lessonId, body: 'Thank you.', at: null });
    }
    const unread = async (viewer: (typeof all)[number]) =>
      (await readThread(viewer, people.player.id))?.lessons[0]?.unreadCount;
    for (const viewer of all) expect(await unread(viewer)).toBe(3);
    expect(await unread(as.coach2)).toBe(4);
    await openLesson(ports, as.player, lessonId);
    expect([await unread(as.player), await unread(as.guardian)]).toEqual([0, 3]);
    ports.later(60_000);
    await replyInThread(ports, as.coach, { id: uuid(), lessonId, body: 'See you Friday.', at: null });
    expect([await unread(as.player), await unread(as.guardian), await unread(as.coach)]).toEqual([1, 4, 3]);
    const replies = (await listReplies(as.player, lessonId)).rows;
    expect(replies.map((reply) => [reply.author.name, reply.author.isStaff])).toEqual([
      ['Wren Sample', false],
      ['Marta Sample', false],
      ['Cole Coach', true],
      ['Lena Lead', true],
      ['Cole Coach', true],
    ]);
  });

  test('opening one lesson leaves the replies of another unread', async () => {
    const { people, as, ports, send, giveBack } = await academy();
    const first = await send();
    await giveBack(first.lessonId);
    await replyInThread(ports, as.coach, { id: uuid(), lessonId: first.lessonId, body: 'Well?', at: null });
    const second = await send();
    await replyInThread(ports, as.coach, { id: uuid(), lessonId: second.lessonId, body: 'Seen.', at: null });
    ports.later(60_000);
    await openLesson(ports, as.player, second.lessonId);
    const thread = await readThread(as.player, people.player.id);
    expect(thread?.lessons.map((lesson) => [lesson.id, lesson.unreadCount])).toEqual([
      [second.lessonId, 0],
      [first.lessonId, 1],
    ]);
  });

  test('an old page that reports late never makes read things unread', async () => {
    const { people, as, ports, send } = await academy();
    const { lessonId } = await send();
    const anHourAgo = { clock: { now: () => new Date(ports.clock.now().getTime() - HOUR) } };
    await replyInThread(ports, as.coach, { id: uuid(), lessonId, body: 'Which bat?', at: null });
    await openLesson(ports, as.player, lessonId);
    await openLesson(anHourAgo, as.player, lessonId);
    expect((await readThread(as.player, people.player.id))?.lessons[0]?.unreadCount).toBe(0);
  });

  test('hang on a frame that the clip has, and on no other', async () => {
    const { as, ports, begin } = await academy();
    const lessonId = await begin();
    const draft = fullDraft();
    await submitLesson(ports, as.player, { lessonId, draft });
    const clipId = draft.clips[0]!.id;
    const at = (frame: number, clip = clipId) =>
      replyInThread(ports, as.coach, { id: uuid(), lessonId, body: 'Here.', at: { clipId: clip, frame } });
    await expect(at(0)).rejects.toMatchObject({ fault: 'invalid' }); // not prepared yet
    await prisma.clip.update({ where: { id: clipId }, data: { state: 'ready', frameCount: 120 } });
    await at(119);
    await expect(at(120)).rejects.toMatchObject({ fault: 'invalid' });
    await expect(at(0, uuid())).rejects.toMatchObject({ fault: 'not-found' });
    expect((await listReplies(as.player, lessonId)).rows).toMatchObject([{ frame: { clipId, frame: 119 } }]);
  });

  test('sent twice, and twice at once, are there once and told once', async () => {
    const { people, as, ports, send } = await academy();
    const { lessonId } = await send();
    const reply = { id: uuid(), lessonId, body: 'Which bat?', at: null };
    await Promise.all([1, 2, 3].map(() => replyInThread(ports, as.coach, reply)));
    await replyInThread(ports, as.coach, reply);
    expect(await prisma.reply.count({ where: { lessonId } })).toBe(1);
    const mails = await mailsTo(people.player);
    expect(mails.filter((mail) => mail.kind === 'reply')).toHaveLength(1);
    await expect(replyInThread(ports, as.player, reply)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('keep what they said before an edit; only their writer edits', async () => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    const id = uuid() as ReplyId;
    await replyInThread(ports, as.player, { id, lessonId, body: 'A 30 inch bat.', at: null });
    ports.later(60_000);
    await editReply(ports, as.player, { id, body: 'A 31 inch bat.' });
    await editReply(ports, as.player, { id, body: 'A 31 inch bat.' }); // the same words: no second edit
    for (const viewer of [as.coach, as.lead, as.guardian]) {
      await expect(editReply(ports, viewer, { id, body: 'No.' })).rejects.toMatchObject({
        fault: 'not-found',
      });
    }
    expect((await listReplies(as.coach, lessonId)).rows).toMatchObject([
      { body: 'A 31 inch bat.', editedAt: ports.clock.now(), earlier: [{ body: 'A 30 inch bat.' }] },
    ]);
  });

  test('the coach who left is not the only one to be told: everybody of the staff is', async () => {
    const { program, people, as, ports, send, giveBack } = await academy();
    const { lessonId } = await send();
    await giveBack(lessonId);
    const reply = () =>
      replyInThread(ports, as.player, { id: uuid(), lessonId, body: 'Thank you.', at: null });
    const told = async () =>
      (await mailsTo(people.coach, people.coach2, people.lead))
        .filter((mail) => mail.kind === 'reply')
        .map((mail) => mail.toEmail)
        .sort();
    await reply();
    expect(await told()).toEqual([people.coach.email]);
    await prisma.membership.deleteMany({ where: { programId: program.id, personId: people.coach.id } });
    await reply();
    expect(await told()).toEqual([people.coach.email, people.coach2.email, people.lead.email].sort());
  });
});

test('an empty form is kept and refused to be sent, each missing thing by name', async () => {
  const { as, ports, begin } = await academy();
  const lessonId = await begin();
  await saveDraft(ports, as.player, { lessonId, draft: emptyDraft() });
  await expect(submitLesson(ports, as.player, { lessonId, draft: emptyDraft() })).rejects.toMatchObject({
    fault: 'invalid',
    detail: { missing: ['clip', 'bats', 'pitch-mode', 'pain', 'question'] },
  });
  expect(await readDraft(as.player, lessonId)).not.toBeNull();
  expect(
    await prisma.outboxMail.count({ where: { data: { path: ['path'], equals: `/lessons/${lessonId}` } } }),
  ).toBe(0);
});
