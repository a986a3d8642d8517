import { v7 as uuid } from 'uuid';
import { afterAll, describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { readDesk } from '@/lib/data/desk.read';
import { readLesson } from '@/lib/data/lessons.read';
import { readSheet } from '@/lib/data/reviews.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId, LessonId, PersonId, ReplyId } from '@/lib/domain/shared/ids';
import { assignLesson } from '@/lib/workflows/assign-lesson';
import { claimUpload } from '@/lib/workflows/claim-upload';
import { closeLesson } from '@/lib/workflows/close-lesson';
import { editReply } from '@/lib/workflows/edit-reply';
import { finishUpload } from '@/lib/workflows/finish-upload';
import { openLesson } from '@/lib/workflows/open-lesson';
import { changeConsent } from '@/lib/workflows/change-consent';
import { pauseContact } from '@/lib/workflows/pause-contact';
import { reopenLesson } from '@/lib/workflows/reopen-lesson';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { saveDraft } from '@/lib/workflows/save-draft';
import { saveSheet } from '@/lib/workflows/save-sheet';
import { setCaptureRate } from '@/lib/workflows/set-capture-rate';
import { startLesson } from '@/lib/workflows/start-lesson';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { withdrawLesson } from '@/lib/workflows/withdraw-lesson';
import { buildCoach, buildGuardian, buildPlayer, buildProgram } from '../../support/build';
import { viewerOf } from '../../support/viewers';
import { academy, fullDraft, mailsTo, readySheet, unfoldedLessons } from './academy';

afterAll(async () => {
  expect(await unfoldedLessons()).toEqual([]);
});

describe('a minor', () => {
  test('in the evening the guardian is told at once, the player at eight; no word of the lesson is in a mail', async () => {
    // 21:30 in Chicago, six hours behind UTC in January.
    const start = new Date('2027-01-15T03:30:00Z');
    const { people, ports, send, giveBack } = await academy({ age: 15, start });
    const { lessonId } = await send();
    const told = await giveBack(lessonId);
    expect(told.map((to) => [to.name, to.at.toISOString()])).toEqual([
      ['Marta Sample', '2027-01-15T03:30:00.000Z'],
      ['Wren Sample', '2027-01-15T14:00:00.000Z'],
    ]);
    const queued = await mailsTo(people.guardian, people.player);
    expect(queued.filter((mail) => mail.kind === 'lesson-returned').map((mail) => mail.notBefore)).toEqual(
      told.map((to) => to.at),
    );
    const words = JSON.stringify(queued.map((mail) => mail.data));
    for (const secret of ['Do I fly open?', 'It drifts forward.', 'Keep the head'])
      expect(words).not.toContain(secret);
    expect(ports.jobs).toEqual(['drain', 'drain', 'drain']);
  });

  test.each([
    'without a verified guardian',
    'whose guardian paused contact',
    'whose guardian took the consent back',
  ])(
    '%s: staff can neither return, reply nor edit; nothing is written and the sheet is kept',
    async (which) => {
      const { people, as, ports, send } = await academy({ age: 15 });
      const { lessonId } = await send();
      const id = uuid() as ReplyId;
      await replyInThread(ports, as.coach, { id, lessonId, body: 'Which bat?', at: null });
      if (which.startsWith('without')) {
        await prisma.guardianship.updateMany({
          where: { playerId: people.player.id },
          data: { verifiedAt: null },
        });
      } else if (which.includes('consent')) {
        await changeConsent(ports, as.guardian, {
          playerId: people.player.id,
          scope: 'lessons',
          isGiven: false,
        });
      } else {
        await pauseContact(ports, as.guardian, { playerId: people.player.id, isPaused: true });
      }
      await takeLesson(ports, as.coach, lessonId);
      await saveSheet(ports, as.coach, { lessonId, baseRevision: 0, sheet: readySheet() });
      const before = await prisma.outboxMail.count();
      const tries = [
        returnLesson(ports, as.coach, { lessonId, revision: 1 }),
        replyInThread(ports, as.lead, { id: uuid(), lessonId, body: 'Hello.', at: null }),
        editReply(ports, as.coach, { id, body: 'Which glove?' }),
      ];
      for (const outcome of await Promise.allSettled(tries)) {
        expect(outcome).toMatchObject({ status: 'rejected', reason: { fault: 'safeguarding' } });
      }
      expect(await readLesson(as.player, lessonId)).toMatchObject({ state: 'in_review', returned: null });
      expect(await prisma.reply.findMany({ where: { lessonId } })).toMatchObject([{ body: 'Which bat?' }]);
      expect(await prisma.replyEdit.count({ where: { replyId: id } })).toBe(0);
      expect(await prisma.outboxMail.count()).toBe(before);
      expect((await readSheet(as.coach, lessonId))?.sheet).toEqual(readySheet());
      await replyInThread(ports, as.player, { id: uuid(), lessonId, body: 'I may write.', at: null });
    },
  );

  test('with an unknown birth date and no guardian stands under what needs care', async () => {
    const { people, as, ports, send } = await academy();
    const { lessonId } = await send();
    const care = async () => {
      const { rows } = await readDesk(as.lead, { filter: 'care', now: ports.clock.now() });
      return rows.map((row) => row.id);
    };
    expect(await care()).toEqual([]);
    await prisma.guardianship.deleteMany({ where: { playerId: people.player.id } });
    await prisma.person.update({ where: { id: people.player.id }, data: { birthDate: null } });
    expect(await care()).toEqual([lessonId]);
  });
});

test('whoever has no business with a lesson gets the same answer as for none', async () => {
  const { program, as, ports, begin, send } = await academy();
  const far = await buildProgram();
  const other = await buildPlayer(program);
  const strangers: Viewer[] = [
    await viewerOf(other, program),
    await viewerOf(await buildGuardian(program, [other]), program),
    await viewerOf(await buildCoach(far), far),
  ];
  const [draftId, { lessonId }] = [await begin(), await send()];
  const acts: ((viewer: Viewer, id: LessonId, draft: LessonId) => Promise<unknown>)[] = [
    (v, _id, draft) => saveDraft(ports, v, { lessonId: draft, draft: fullDraft() }),
    (v, _id, draft) => submitLesson(ports, v, { lessonId: draft, draft: fullDraft() }),
    (v, id) => withdrawLesson(ports, v, { lessonId: id, reason: '' }),
    (v, id) => takeLesson(ports, v, id),
    (v, id) => assignLesson(ports, v, { lessonId: id, coachId: null }),
    (v, id) => saveSheet(ports, v, { lessonId: id, baseRevision: 0, sheet: readySheet() }),
    (v, id) => returnLesson(ports, v, { lessonId: id, revision: 0 }),
    (v, id) => reopenLesson(ports, v, { lessonId: id, reason: 'Why not' }),
    (v, id) => closeLesson(ports, v, id),
    (v, id) => openLesson(ports, v, id),
    (v, id) => replyInThread(ports, v, { id: uuid(), lessonId: id, body: 'Hello.', at: null }),
  ];
  const answer = async (work: Promise<unknown>) => {
    const refusal = await work.then(
      () => null,
      (error: unknown) => error as { fault: string; forPeople: string },
    );
    return refusal && [refusal.fault, refusal.forPeople];
  };
  for (const act of acts) {
    for (const viewer of strangers) {
      const absent = await answer(act(viewer, uuid() as LessonId, uuid() as LessonId));
      expect(absent?.[0]).toBe('not-found');
      expect(await answer(act(viewer, lessonId, draftId))).toEqual(absent);
    }
  }
  expect(await readLesson(as.player, lessonId)).toMatchObject({ state: 'submitted' });
});

describe('sending', () => {
  test('two at once on one thread get the numbers one after the other, and one sent twice keeps its own', async () => {
    const { as, ports, begin, send } = await academy();
    expect((await send()).number).toBe(1);
    const [a, b] = [await begin(), await begin()];
    const submit = (lessonId: LessonId, draft = fullDraft()) =>
      submitLesson(ports, as.player, { lessonId, draft });
    const sent = await Promise.all([submit(a), submit(b), submit(a), submit(b)]);
    expect(new Set(sent.map((one) => one.number))).toEqual(new Set([2, 3]));
    expect([sent[0]?.number, sent[1]?.number]).toEqual([sent[2]?.number, sent[3]?.number]);
    expect(await prisma.ledgerEntry.count({ where: { lessonId: { in: [a, b] } } })).toBe(2);
  });

  test('started twice at once it is there once; another player’s id is refused', async () => {
    const { program, people, as } = await academy();
    const input = { lessonId: uuid() as LessonId, playerId: people.player.id as PersonId, followsId: null };
    await Promise.all([1, 2, 3].map(() => startLesson(as.player, input)));
    expect(await prisma.lessonEvent.count({ where: { lessonId: input.lessonId } })).toBe(1);
    expect(await prisma.auditEntry.count({ where: { subject: `lesson:${input.lessonId}` } })).toBe(1);
    const other = await buildPlayer(program);
    await expect(
      startLesson(await viewerOf(other, program), { ...input, playerId: other.id }),
    ).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('when the queue fails, nothing of it is kept', async () => {
    const { as, ports, begin } = await academy();
    const lessonId = await begin();
    const mails = await prisma.outboxMail.count();
    const queue = { ...ports.queue, drainOutbox: () => Promise.reject(new Error('the queue is down')) };
    await expect(
      submitLesson({ ...ports, queue }, as.player, { lessonId, draft: fullDraft() }),
    ).rejects.toThrow('the queue is down');
    expect(await readLesson(as.player, lessonId)).toMatchObject({ state: 'draft', number: 0 });
    expect(await prisma.outboxMail.count()).toBe(mails);
    expect(await prisma.ledgerEntry.count({ where: { lessonId } })).toBe(0);
  });
});

describe('a clip', () => {
  test('is claimed and finished once, however often it is told; nobody else claims it', async () => {
    const { people, as, ports, begin } = await academy();
    const [lessonId, draft] = [await begin(), fullDraft()];
    await saveDraft(ports, as.player, { lessonId, draft });
    const clipId = draft.clips[0]!.id as ClipId;
    const declared = { sizeBytes: 1000, type: 'video/mp4' };
    expect(await claimUpload(as.player, clipId, declared)).toEqual({ isStored: false });
    await expect(claimUpload(as.guardian, clipId, declared)).rejects.toMatchObject({ fault: 'not-found' });
    const facts = {
      senderId: people.player.id,
      storageKey: `clips/${clipId}/original`,
      sizeBytes: 1000,
      md5: 'x',
    };
    const finish = () => finishUpload(ports, asSystem('worker'), clipId, facts);
    await Promise.all([finish(), finish()]);
    await finish();
    expect(ports.jobs).toEqual([`prepare ${clipId}`]);
    expect(await claimUpload(as.player, clipId, declared)).toEqual({ isStored: true });
    await expect(claimUpload(as.player, clipId, { ...declared, sizeBytes: 7 })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
    await setCaptureRate(as.player, clipId, 240);
    await expect(setCaptureRate(as.player, clipId, 0)).rejects.toMatchObject({ fault: 'invalid' });

    // Off the list its files go; put back by another window it waits for them again.
    await saveDraft(ports, as.player, { lessonId, draft: { ...draft, clips: [] } });
    expect(ports.removedFiles).toEqual([`clips/${clipId}/`]);
    await saveDraft(ports, as.player, { lessonId, draft });
    expect(await prisma.clip.findUnique({ where: { id: clipId } })).toMatchObject({
      state: 'expected',
      storageKey: null,
      removedAt: null,
    });
  });
});

describe('withdrawing', () => {
  test('before a coach took it: the charge is waived, both sides are told, and it cannot be sent again', async () => {
    const { people, as, ports, send } = await academy();
    const { lessonId } = await send();
    await withdrawLesson(ports, as.player, { lessonId, reason: 'Wrong clip' });
    expect(await readLesson(as.player, lessonId)).toMatchObject({
      state: 'withdrawn',
      account: { owedMinor: 0, status: 'waived' },
    });
    const told = (await mailsTo(...Object.values(people))).filter((mail) => mail.kind === 'lesson-withdrawn');
    expect(told.map((mail) => mail.toEmail).sort()).toEqual(
      [people.player, people.coach, people.coach2, people.lead].map((one) => one.email).sort(),
    );
    await expect(submitLesson(ports, as.player, { lessonId, draft: fullDraft() })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });

  test('in review: what is owed stays, and its coach is told; once returned it is refused', async () => {
    const { people, as, ports, send, giveBack } = await academy();
    const { lessonId } = await send();
    await takeLesson(ports, as.coach, lessonId);
    await withdrawLesson(ports, as.player, { lessonId, reason: '' });
    expect(await readLesson(as.player, lessonId)).toMatchObject({
      state: 'withdrawn',
      account: { owedMinor: 4500 },
    });
    const told = (await mailsTo(people.coach, people.lead)).filter(
      (mail) => mail.kind === 'lesson-withdrawn',
    );
    expect(told.map((mail) => mail.toEmail)).toEqual([people.coach.email]);
    const next = await send();
    await giveBack(next.lessonId);
    await expect(
      withdrawLesson(ports, as.player, { lessonId: next.lessonId, reason: '' }),
    ).rejects.toMatchObject({ fault: 'wrong-state' });
  });

  test('what was never sent stays out of the staff’s sight', async () => {
    const { as, ports, begin } = await academy();
    const lessonId = await begin();
    await withdrawLesson(ports, as.player, { lessonId, reason: '' });
    for (const viewer of [as.coach, as.lead]) expect(await readLesson(viewer, lessonId)).toBeNull();
  });
});

test('a lesson given to one coach is taken by that coach or the lead, and handed over by them alone', async () => {
  const { people, as, ports, send } = await academy();
  const { lessonId } = await send();
  await assignLesson(ports, as.coach2, { lessonId, coachId: people.coach.id });
  await saveSheet(ports, as.coach2, { lessonId, baseRevision: 0, sheet: readySheet() });
  const wrong = { fault: 'wrong-state' };
  await expect(takeLesson(ports, as.coach2, lessonId)).rejects.toMatchObject(wrong);
  await expect(returnLesson(ports, as.coach2, { lessonId, revision: 1 })).rejects.toMatchObject(wrong);
  await expect(assignLesson(ports, as.coach2, { lessonId, coachId: null })).rejects.toMatchObject(wrong);
  await takeLesson(ports, as.coach, lessonId);
  await expect(takeLesson(ports, as.coach2, lessonId)).rejects.toMatchObject(wrong);
  await expect(assignLesson(ports, as.lead, { lessonId, coachId: people.player.id })).rejects.toMatchObject({
    fault: 'not-found',
  });
  await assignLesson(ports, as.lead, { lessonId, coachId: people.coach2.id });
  await expect(returnLesson(ports, as.coach, { lessonId, revision: 1 })).rejects.toMatchObject(wrong);
  await assignLesson(ports, as.coach2, { lessonId, coachId: null });
  expect(await readLesson(as.lead, lessonId)).toMatchObject({ state: 'submitted', coach: null });
});

test('facts stand: the database itself refuses to change or drop them', async () => {
  const { as, ports, send } = await academy();
  const { lessonId } = await send();
  const id = uuid() as ReplyId;
  await replyInThread(ports, as.player, { id, lessonId, body: 'One.', at: null });
  await editReply(ports, as.player, { id, body: 'Two.' });
  for (const table of ['LedgerEntry', 'AuditEntry', 'LessonEvent', 'ReplyEdit']) {
    const count = () => prisma.$queryRawUnsafe<{ n: bigint }[]>(`SELECT count(*) AS n FROM "${table}"`);
    const before = await count();
    expect(before[0]!.n).toBeGreaterThan(0n);
    for (const sql of [`UPDATE "${table}" SET at = now()`, `DELETE FROM "${table}"`, `TRUNCATE "${table}"`]) {
      await expect(prisma.$executeRawUnsafe(sql)).rejects.toThrow('append-only');
    }
    expect(await count()).toEqual(before);
  }
  // Also through the client that the program itself uses.
  await expect(
    prisma.ledgerEntry.updateMany({ where: { lessonId }, data: { amountMinor: 1 } }),
  ).rejects.toThrow();
  expect(await prisma.ledgerEntry.findMany({ where: { lessonId } })).toMatchObject([{ amountMinor: 4500 }]);
});
