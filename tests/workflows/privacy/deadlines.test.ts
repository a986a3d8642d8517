import { v7 as uuid } from 'uuid';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { DEFAULT_DEADLINES, type RetentionClass } from '@/lib/domain/privacy/retention';
import { removeLetGo } from '@/lib/workflows/remove-let-go';
import { keepDeadlines } from '@/lib/workflows/keep-deadlines';
import { buildInvitation, buildLesson } from '../../support/build';
import { buildClearances, buildConcern, buildConsent } from '../../support/build-care';
import { DAY, inDays, openHousehold, storedBreakdown, storedClip, system } from './household';

let home: Awaited<ReturnType<typeof openHousehold>>;
beforeEach(async () => {
  home = await openHousehold();
});
afterEach(() => home.close());

const night = (days: number) => keepDeadlines(home.at(inDays(days)), system);
const days = (name: RetentionClass) => DEFAULT_DEADLINES[name];

describe('what is due goes, with every file that was made of it', () => {
  test('an original goes, its clip stays', async () => {
    await night(days('originals') - 1);
    expect(await home.keysOf(home.clip)).toContain(`clips/${home.clip.id}/original.mp4`);
    await night(days('originals') + 1);
    const keys = await home.keysOf(home.clip);
    expect(keys).not.toContain(`clips/${home.clip.id}/original.mp4`);
    expect(keys).toContain(`clips/${home.clip.id}/review.mp4`);
    const clip = await prisma.clip.findUniqueOrThrow({ where: { id: home.clip.id } });
    expect(clip).toMatchObject({ state: 'ready', storageKey: null, removedAt: null });
  });

  test('a film goes, its breakdown stays', async () => {
    await night(days('films') + 1);
    const keys = await home.keysOf(home.breakdown);
    expect(keys.some((key) => key.includes('export-'))).toBe(false);
    expect(keys).toContain(`breakdowns/${home.breakdown.id}/voice-1.webm`);
    const film = await prisma.breakdownExport.findUniqueOrThrow({ where: { id: home.breakdown.film.id } });
    expect(film).toMatchObject({ state: 'cancelled', storageKey: null });
  });

  test('a swing that was never sent is withdrawn without its words', async () => {
    const draft = await buildLesson(home.program, home.player, {
      state: 'draft',
      startedById: home.guardian.id,
      painWhere: 'wrist',
    });
    const clip = await storedClip(home.storage, draft);
    await night(days('drafts') + 1);
    expect(await home.keysOf(clip)).toEqual([]);
    const lesson = await prisma.lesson.findUniqueOrThrow({
      where: { id: draft.id },
      include: { events: true },
    });
    expect(lesson).toMatchObject({ state: 'withdrawn', question: '', painWhere: null });
    expect(lesson.events.map((event) => event.kind)).toContain('withdrawn');
  });

  test('a draft that was worked on lately stays', async () => {
    const draft = await buildLesson(home.program, home.player, {
      state: 'draft',
      createdAt: inDays(-100),
      startedById: home.guardian.id,
    });
    const clip = await storedClip(home.storage, draft);
    await night(0);
    expect((await home.keysOf(clip)).length).toBeGreaterThan(0);
  });

  test('clips of a lesson that was taken back go, that it was sent stays', async () => {
    const lesson = await buildLesson(home.program, home.player, { state: 'withdrawn' });
    await prisma.lessonEvent.create({
      data: { id: uuid(), lessonId: lesson.id, kind: 'withdrawn', actorId: home.guardian.id },
    });
    const clip = await storedClip(home.storage, lesson);
    await night(days('withdrawn') + 1);
    expect(await home.keysOf(clip)).toEqual([]);
    expect(await prisma.lesson.count({ where: { id: lesson.id, number: { not: null } } })).toBe(1);
  });

  test('a breakdown that was never given goes, one of a lesson at work stays', async () => {
    const kept = { isGiven: false };
    const idle = await storedBreakdown(home.storage, home.lesson, home.coach, home.guardian, kept);
    const open = await buildLesson(home.program, home.player, { state: 'in_review', coachId: home.coach.id });
    const busy = await storedBreakdown(home.storage, open, home.coach, home.guardian, kept);
    await night(days('takes') + 1);
    expect(await home.keysOf(idle)).toEqual([]);
    expect((await home.keysOf(busy)).length).toBeGreaterThan(0);
    expect((await home.keysOf(home.breakdown)).length).toBeGreaterThan(0);
    const row = await prisma.breakdown.findUniqueOrThrow({ where: { id: idle.id } });
    expect(row).toMatchObject({ state: 'removed', title: '', captions: '', recipe: null });
  });

  test('of a player who has left nothing lies in storage any more, and the thread says what there was', async () => {
    await night(days('quiet-players') + 1);
    expect(await home.keysOf(home.clip, home.breakdown, home.player, home.lesson)).toEqual([]);
    const lesson = await prisma.lesson.findUniqueOrThrow({
      where: { id: home.lesson.id },
      include: { clips: true, breakdowns: true, returns: true, replies: true },
    });
    expect(lesson.state).toBe('returned');
    expect(lesson.clips.every((clip) => clip.removedAt !== null)).toBe(true);
    expect(lesson.breakdowns.map((one) => one.state)).toEqual(['removed']);
    expect(lesson.returns[0]?.fixFirst).not.toBe('');
    expect(lesson.replies).toHaveLength(2);
  });

  test('a player who wrote lately has not left', async () => {
    const long = inDays(days('quiet-players') + 1);
    await prisma.reply.update({
      where: { id: home.answer.id },
      data: { at: new Date(long.getTime() - DAY) },
    });
    await keepDeadlines(home.at(long), system);
    expect((await home.keysOf(home.clip)).length).toBeGreaterThan(0);
    expect(await home.keysOf(home.siblingClip)).toEqual([]);
  });

  test('rows without files: practice, watching, notices, invitations', async () => {
    const { program, player, lesson, guardian } = home;
    await prisma.lessonView.create({ data: { lessonId: lesson.id, personId: guardian.id } });
    await prisma.notice.create({
      data: {
        ...{ id: uuid(), programId: program.id, personId: guardian.id, playerId: player.id },
        ...{ kind: 'reply', data: {}, path: `/lessons/${lesson.id}` },
      },
    });
    await buildInvitation(program, home.lead);
    const counts = async () => [
      await prisma.checkIn.count({ where: { assignmentId: String(home.assignment.id) } }),
      await prisma.lessonView.count({ where: { lessonId: lesson.id } }),
      await prisma.notice.count({ where: { programId: program.id } }),
      await prisma.invitation.count({ where: { programId: program.id } }),
    ];
    await night(20);
    expect(await counts()).toEqual([1, 1, 1, 1]);
    await night(days('practice') + 1);
    expect(await counts()).toEqual([0, 0, 0, 0]);
  });

  test('who saw what, concerns, consents and checks go at their end, and what was done stays in the audit', async () => {
    const { program, player, guardian, coach, lead } = home;
    const old = new Date(Date.now() - (days('safeguarding') + 10) * DAY);
    const ended = { closedAt: old, closedById: lead.id, outcome: 'Talked.' };
    const concern = await buildConcern(program, player, { ...ended, at: old });
    const open = await buildConcern(program, player);
    const consent = await buildConsent(program, player, guardian, {
      givenAt: old,
      expiresAt: new Date(old.getTime() + DAY),
    });
    await buildClearances(program, coach, { issuedOn: old, expiresOn: old });
    await prisma.auditEntry.createMany({
      data: ['minor.shown', 'lesson.returned'].map((action) => ({
        ...{ id: uuid(), programId: program.id, actorId: coach.id, action, at: old },
        subject: `person:${player.id}`,
        data: { what: 'lesson', id: home.lesson.id },
      })),
    });
    const counts = await night(0);
    expect(counts).toMatchObject({ safeguarding: 4, shown: 1 });
    expect(await prisma.concern.findMany({ where: { id: { in: [concern.id, open.id] } } })).toHaveLength(1);
    expect(await prisma.consent.count({ where: { id: consent.id } })).toBe(0);
    expect(await prisma.auditEntry.count({ where: { programId: program.id, at: old } })).toBe(1);
  });

  test('bills lose the name and keep number and amount', async () => {
    const before = await prisma.billingDocument.findUniqueOrThrow({ where: { id: home.document.id } });
    await night(0);
    const { facts, ...after } = await prisma.billingDocument.findUniqueOrThrow({
      where: { id: home.document.id },
    });
    expect({ ...after, facts: { ...(facts as object), payerName: 'Marta Sample' } }).toEqual(before);
    expect(facts).toMatchObject({ payerName: 'A former payer' });
    expect(await home.keysOf(home.document)).toEqual([]);
    const entries = await prisma.ledgerEntry.findMany({ where: { lessonId: home.lesson.id } });
    expect(entries.map(({ reason, amountMinor }) => [reason, amountMinor])).toEqual([['', 4500]]);
  });

  test('sent mails, sign-in traces and copies of everything, wherever they belong', async () => {
    const now = inDays(200);
    await prisma.outboxMail.createMany({
      data: [new Date(), null].map((sentAt) => ({
        ...{ id: uuid(), kind: 'reply', toEmail: 'wren@example.org', data: {}, sentAt },
      })),
    });
    await prisma.endedSession.create({ data: { id: uuid(), expires: new Date() } });
    await prisma.verificationToken.create({
      data: { identifier: home.guardian.id, token: uuid(), expires: new Date() },
    });
    const copy = await prisma.personalExport.create({
      data: {
        ...{ id: uuid(), programId: home.program.id, personId: home.player.id, byId: home.guardian.id },
        ...{ state: 'ready', parts: 1, expiresAt: new Date() },
      },
    });
    await home.storage.put(`personal/${copy.id}/part-1.zip`, { bytes: new Uint8Array(3) });
    await keepDeadlines(home.at(now), system);
    expect(await prisma.outboxMail.count({ where: { toEmail: 'wren@example.org' } })).toBe(1);
    expect(await prisma.endedSession.count()).toBe(0);
    expect(await prisma.verificationToken.count()).toBe(0);
    expect(await home.keysOf(copy)).toEqual([]);
    const row = await prisma.personalExport.findUniqueOrThrow({ where: { id: copy.id } });
    expect(row.state).toBe('expired');
  });
});

describe('a night', () => {
  test('is in the journal by class, and counts nothing twice', async () => {
    const when = inDays(days('originals') + 1);
    await keepDeadlines(home.at(when), system);
    await keepDeadlines(home.at(when), system);
    const run = await prisma.retentionRun.findFirstOrThrow({ where: { programId: home.program.id } });
    expect(run.counts).toMatchObject({ originals: 2, films: 1 });
    expect(run.endedAt).not.toBeNull();
  });

  test('that two workers begin at once does everything once', async () => {
    const ports = home.at(inDays(days('quiet-players') + 1));
    await Promise.all([keepDeadlines(ports, system), keepDeadlines(ports, system)]);
    const run = await prisma.retentionRun.findFirstOrThrow({ where: { programId: home.program.id } });
    expect(run.counts).toMatchObject({ 'quiet-players': 2 });
    expect(await home.keysOf(home.clip, home.siblingClip)).toEqual([]);
  });

  test('that ends between rows and files is finished by the next', async () => {
    const when = inDays(days('quiet-players') + 1);
    const removed: string[] = [];
    const dying = {
      ...home.storage,
      remove: async (prefix: string) => {
        if (removed.length > 0) throw new Error('The machine went down.');
        removed.push(prefix);
        await home.storage.remove(prefix);
      },
    };
    // The sweep of strays at the end of the night meets the same storage.
    await keepDeadlines({ ...home.at(when), storage: dying }, system).catch(() => {});
    expect((await home.keysOf(home.clip, home.siblingClip, home.breakdown)).length).toBeGreaterThan(0);
    expect(await prisma.clip.count({ where: { id: home.clip.id, removedAt: null } })).toBe(0);

    await removeLetGo({ ...home.ports, storage: home.storage }, system);
    expect(await home.keysOf(home.clip, home.siblingClip, home.breakdown)).toEqual([]);
    expect(await prisma.fileRemoval.count()).toBe(0);
  });

  test('files that no row wants go a day later; those of a removed clip at once; unknown ones never', async () => {
    const nobody = `clips/${uuid()}/original.mp4`;
    const strange = 'somewhere/else/file.bin';
    for (const key of [nobody, strange]) await home.storage.put(key, { bytes: new Uint8Array(1) });
    await prisma.clip.update({ where: { id: home.siblingClip.id }, data: { removedAt: inDays(-2) } });
    await night(0);
    expect(await home.keysOf(home.siblingClip)).toEqual([]);
    expect(await home.storage.list('')).toEqual(expect.arrayContaining([nobody, strange]));
    await night(1.1);
    const keys = await home.storage.list('');
    expect(keys).not.toContain(nobody);
    expect(keys).toContain(strange);
    expect((await home.keysOf(home.clip, home.remark)).length).toBe(6);
  });
});
