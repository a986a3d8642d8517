import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { listBreakdowns, readBreakdown } from '@/lib/data/breakdowns.read';
import { prisma } from '@/lib/data/client';
import { partKey } from '@/lib/domain/breakdowns/files';
import { partPrint } from '@/lib/domain/breakdowns/part-print';
import { emptySheet } from '@/lib/domain/review/sheet';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import { askForCaptions } from '@/lib/workflows/ask-for-captions';
import { claimPart } from '@/lib/workflows/claim-part';
import { finishPart } from '@/lib/workflows/finish-part';
import { giveBreakdown } from '@/lib/workflows/give-breakdown';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { noteWatched } from '@/lib/workflows/note-watched';
import { removeBreakdown } from '@/lib/workflows/remove-breakdown';
import { renameBreakdown } from '@/lib/workflows/rename-breakdown';
import { reopenBreakdown } from '@/lib/workflows/reopen-breakdown';
import { retryBreakdown } from '@/lib/workflows/retry-breakdown';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { startBreakdown } from '@/lib/workflows/start-breakdown';
import { buildBreakdown } from '../../support/build-breakdown';
import { buildCoach, buildLead } from '../../support/build';
import { asVersionOne } from '../../support/older-part';
import { viewerOf } from '../../support/viewers';
import { openStudio, system } from './studio';

let studio: Awaited<ReturnType<typeof openStudio>>;
beforeAll(async () => {
  studio = await openStudio();
});
afterAll(() => studio.close());

const fresh = () => uuid() as BreakdownId;
type At = Awaited<ReturnType<typeof studio.lesson>>;
const start = (at: At, viewer = at.asCoach, breakdownId = fresh()) =>
  startBreakdown(studio.ports, viewer, { breakdownId, lessonId: at.lesson.id, hasVoice: true });
const pause = (at: At) =>
  prisma.guardianship.updateMany({ where: { playerId: at.player.id }, data: { pausedAt: new Date() } });
const give = async (at: At, id: BreakdownId) => {
  await prisma.breakdown.update({ where: { id }, data: { givenAt: new Date() } });
  await prisma.lesson.update({ where: { id: at.lesson.id }, data: { state: 'returned' } });
};

describe('who may begin', () => {
  test('nobody of the player’s side, and no other coach', async () => {
    const at = await studio.lesson();
    await expect(start(at, at.asPlayer)).rejects.toMatchObject({ fault: 'not-found' });
    await expect(start(at, at.asGuardian)).rejects.toMatchObject({ fault: 'not-found' });
    const other = await viewerOf(await buildCoach(at.program), at.program);
    await expect(start(at, other)).rejects.toMatchObject({ fault: 'wrong-state' });
  });

  test('nobody while a guardian has paused contact, or where no guardian stands', async () => {
    const at = await studio.lesson();
    await pause(at);
    await expect(start(at)).rejects.toMatchObject({ fault: 'safeguarding' });
    await prisma.guardianship.deleteMany({ where: { playerId: at.player.id } });
    await expect(start(at)).rejects.toMatchObject({ fault: 'safeguarding' });
  });

  test('nobody once the lesson was withdrawn', async () => {
    const at = await studio.lesson();
    await prisma.lesson.update({ where: { id: at.lesson.id }, data: { state: 'withdrawn' } });
    await expect(start(at)).rejects.toMatchObject({ fault: 'wrong-state' });
  });
});

describe('a part', () => {
  const open = async () => {
    const at = await studio.lesson();
    const id = fresh();
    await start(at, at.asCoach, id);
    const take = await studio.take(at.clip.id);
    return { ...at, id, take, part: { breakdownId: id, segmentId: take.segmentId, number: 0 } };
  };

  test('is refused during a pause, when it is claimed and when its bytes are here', async () => {
    const at = await open();
    const { part, take } = at;
    await claimPart(studio.ports, at.asCoach, part, take.parts[0]!.length);
    await pause(at);
    await expect(claimPart(studio.ports, at.asCoach, part, 10)).rejects.toMatchObject({
      fault: 'safeguarding',
    });
    await at.storage.put(partKey(part), { bytes: take.parts[0]! });
    const facts = { storageKey: partKey(part), sizeBytes: take.parts[0]!.length, md5: 'x' };
    await expect(
      finishPart({ clock: studio.ports.clock, storage: at.storage }, system, part, {
        senderId: at.asCoach.personId,
        ...facts,
      }),
    ).rejects.toMatchObject({ fault: 'safeguarding' });
    expect(await prisma.breakdownPart.findFirst({ where: { breakdownId: at.id } })).toMatchObject({
      storageKey: null,
    });
  });

  test('of other bytes under a number that is stored is told', async () => {
    const at = await open();
    await studio.send(at.asCoach, at.storage, at.id, at.take, 0);
    const wrong = claimPart(studio.ports, at.asCoach, at.part, at.take.parts[0]!.length + 1);
    await expect(wrong).rejects.toMatchObject({ fault: 'conflict' });
  });

  test('that an older version wrote and stored is there already, when it says the same', async () => {
    const at = await open();
    const newer = at.take.parts[0]!;
    const older = asVersionOne(newer);
    expect(older.length).not.toBe(newer.length);
    await studio.send(at.asCoach, at.storage, at.id, { ...at.take, parts: [older] }, 0);
    const ports = { clock: studio.ports.clock, storage: at.storage };
    const claim = (bytes: Uint8Array, print?: string) =>
      claimPart(ports, at.asCoach, at.part, bytes.length, print);
    expect(await claim(newer, await partPrint(newer))).toEqual({ isStored: true });
    // Other content in the same place, or none that is told, is not.
    const other = at.take.parts[1]!;
    await expect(claim(other, await partPrint(other))).rejects.toMatchObject({ fault: 'conflict' });
    await expect(claim(newer)).rejects.toMatchObject({ fault: 'conflict' });
    const row = await prisma.breakdownPart.findFirst({ where: { breakdownId: at.id } });
    expect(row).toMatchObject({ sizeBytes: older.length, storageKey: partKey(at.part) });
  });

  test('of which nothing is stored yet takes the newest size, and the bytes that lie there last count', async () => {
    const at = await open();
    const newer = at.take.parts[0]!;
    const older = asVersionOne(newer);
    for (const { length } of [older, newer]) {
      expect(await claimPart(studio.ports, at.asCoach, at.part, length)).toEqual({ isStored: false });
      const row = await prisma.breakdownPart.findFirst({ where: { breakdownId: at.id } });
      expect(row).toMatchObject({ sizeBytes: length, storageKey: null });
    }
    // A server that was killed hands the older one on while the newer is on its way.
    for (const [bytes, md5] of [
      [older, 'older'],
      [newer, 'newer'],
    ] as const)
      await finishPart({ clock: studio.ports.clock, storage: at.storage }, system, at.part, {
        ...{ senderId: at.asCoach.personId, storageKey: partKey(at.part), sizeBytes: bytes.length, md5 },
      });
    const row = await prisma.breakdownPart.findFirst({ where: { breakdownId: at.id } });
    expect(row).toMatchObject({ sizeBytes: newer.length, md5: 'newer' });
  });

  test('is the recording coach’s alone, even from a lead', async () => {
    const at = await open();
    const lead = await viewerOf(await buildLead(at.program), at.program);
    await expect(claimPart(studio.ports, lead, at.part, 10)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test.each(['ready', 'assembling', 'removed'] as const)(
    'is refused when the breakdown is %s',
    async (state) => {
      const at = await open();
      await prisma.breakdown.update({ where: { id: at.id }, data: { state } });
      await expect(claimPart(studio.ports, at.asCoach, at.part, 10)).rejects.toMatchObject({
        fault: 'wrong-state',
      });
    },
  );

  test('is refused when the lesson went to another coach', async () => {
    const at = await open();
    const other = await buildCoach(at.program);
    await prisma.lesson.update({ where: { id: at.lesson.id }, data: { coachId: other.id } });
    await expect(claimPart(studio.ports, at.asCoach, at.part, 10)).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });

  test('that comes after the breakdown was removed is turned away', async () => {
    const at = await open();
    await claimPart(studio.ports, at.asCoach, at.part, at.take.parts[0]!.length);
    await removeBreakdown({ clock: studio.ports.clock, storage: at.storage }, at.asCoach, at.id);
    const late = finishPart({ clock: studio.ports.clock, storage: at.storage }, system, at.part, {
      ...{ senderId: at.asCoach.personId, storageKey: partKey(at.part), sizeBytes: 1, md5: 'x' },
    });
    await expect(late).rejects.toMatchObject({ fault: 'not-found' });
  });
});

describe('keeping', () => {
  test('refuses what is longer than ten minutes, names takes that were not sent, and what the player has', async () => {
    const at = await studio.lesson();
    const { breakdownId, take, parts } = await studio.ready(at);
    const keep = (pieces: { segmentId: string; fromMs: number; toMs: number }[]) =>
      keepBreakdown(studio.ports, at.asCoach, {
        breakdownId,
        recipe: studio.recipe(at.clip.id, pieces),
        parts,
      });
    const one = { segmentId: take.segmentId, fromMs: 0, toMs: 400_000 };
    await expect(keep([one, one])).rejects.toMatchObject({ fault: 'invalid' });
    await expect(keep([{ ...one, segmentId: uuid(), toMs: 1000 }])).rejects.toMatchObject({
      fault: 'invalid',
    });
    await give(at, breakdownId);
    await expect(keep([{ ...one, toMs: 1000 }])).rejects.toMatchObject({ fault: 'wrong-state' });
    await expect(reopenBreakdown(at.asCoach, breakdownId)).rejects.toMatchObject({ fault: 'wrong-state' });
    await expect(retryBreakdown(studio.ports, at.asCoach, breakdownId)).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });

  test('refuses a removed one, and keeps its name out of reach', async () => {
    const at = await studio.lesson();
    const { breakdownId, recipe, parts } = await studio.ready(at);
    await removeBreakdown({ clock: studio.ports.clock, storage: at.storage }, at.asCoach, breakdownId);
    await expect(
      keepBreakdown(studio.ports, at.asCoach, { breakdownId, recipe, parts }),
    ).rejects.toMatchObject({ fault: 'wrong-state' });
    await expect(renameBreakdown(at.asCoach, { breakdownId, title: 'x' })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });
});

describe('giving', () => {
  const judged = async (at: At) => {
    const item = at.program.checklistId;
    const checklist = await prisma.checklist.findUniqueOrThrow({ where: { id: item } });
    const [first] = checklist.items as { id: string }[];
    const sheet = {
      ...emptySheet(),
      answers: [{ itemId: first!.id, verdict: 'close', note: '', clipId: null, frame: null }],
      fixFirst: { itemId: first!.id, sentence: 'Land closed.' },
    };
    await prisma.review.create({
      data: { lessonId: at.lesson.id, sheet, revision: 1, updatedById: at.coach.id },
    });
  };
  const giveBack = (at: At, withoutCaptions?: boolean) =>
    returnLesson(studio.ports, at.asCoach, { lessonId: at.lesson.id, revision: 1, withoutCaptions });

  test('comes with the return, after a plain reminder when captions are missing; watched to is told to the coach', async () => {
    const at = await studio.lesson();
    await judged(at);
    const { breakdownId } = await studio.ready(at);
    await expect(giveBack(at)).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining('no captions') as string,
    });
    await giveBack(at, true);
    expect(await listBreakdowns(at.asPlayer, at.lesson.id)).toMatchObject([
      { id: breakdownId, state: 'ready', watchers: [], captionAsks: [], mayChange: false },
    ]);
    const watch = (positionMs: number, isDone = false) =>
      noteWatched(studio.ports, at.asPlayer, { breakdownId, positionMs, isDone });
    await watch(3000);
    await watch(1200);
    expect(await readBreakdown(at.asCoach, breakdownId)).toMatchObject({
      watchers: [{ id: at.player.id, positionMs: 1200, furthestMs: 3000, isDone: false }],
    });
    await watch(4000, true);
    await watch(0);
    expect((await readBreakdown(at.asPlayer, breakdownId))!.own).toEqual({
      positionMs: 0,
      furthestMs: 4000,
      isDone: true,
    });
    await askForCaptions(studio.ports, at.asGuardian, breakdownId);
    await askForCaptions(studio.ports, at.asGuardian, breakdownId);
    expect((await readBreakdown(at.asCoach, breakdownId))!.captionAsks).toMatchObject([
      { id: at.guardian.id },
    ]);
    const asked = await prisma.outboxMail.findMany({
      where: { kind: 'captions-asked', toEmail: at.coach.email! },
    });
    expect(asked).toHaveLength(1);
  });

  test('waits while one is still being put together', async () => {
    const at = await studio.lesson();
    await judged(at);
    await buildBreakdown(at.lesson, at.coach, { state: 'assembling' });
    await expect(giveBack(at, true)).rejects.toMatchObject({ fault: 'wrong-state' });
  });

  test('a second one after a reply; not before the lesson is returned, not during a pause', async () => {
    const at = await studio.lesson();
    const { breakdownId } = await studio.ready(at);
    const again = () => giveBreakdown(studio.ports, at.asCoach, { breakdownId, withoutCaptions: true });
    await expect(again()).rejects.toMatchObject({ fault: 'wrong-state' });
    await prisma.lesson.update({ where: { id: at.lesson.id }, data: { state: 'returned' } });
    await pause(at);
    await expect(again()).rejects.toMatchObject({ fault: 'safeguarding' });
    await prisma.guardianship.updateMany({ where: { playerId: at.player.id }, data: { pausedAt: null } });
    expect((await again()).length).toBeGreaterThan(0);
    expect(await again()).toEqual([]);
    expect(await readBreakdown(at.asGuardian, breakdownId)).toMatchObject({ state: 'ready' });
  });
});
