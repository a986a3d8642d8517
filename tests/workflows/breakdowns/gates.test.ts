import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { listBreakdowns, readBreakdown } from '@/lib/data/breakdowns.read';
import { prisma } from '@/lib/data/client';
import { listRemarks } from '@/lib/data/remarks.read';
import { listReplies } from '@/lib/data/threads.read';
import { partKey, remarkKey } from '@/lib/domain/breakdowns/files';
import { writePart } from '@/lib/domain/breakdowns/parse-part';
import { emptySheet } from '@/lib/domain/review/sheet';
import type { BreakdownId, ExportId, RemarkId, ThreadId } from '@/lib/domain/shared/ids';
import { askForCaptions } from '@/lib/workflows/ask-for-captions';
import { cancelExport } from '@/lib/workflows/cancel-export';
import { claimPart } from '@/lib/workflows/claim-part';
import { finishPart } from '@/lib/workflows/finish-part';
import { giveBreakdown } from '@/lib/workflows/give-breakdown';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { keepRemark } from '@/lib/workflows/keep-remark';
import { noteExport } from '@/lib/workflows/note-export';
import { noteWatched } from '@/lib/workflows/note-watched';
import { removeBreakdown } from '@/lib/workflows/remove-breakdown';
import { removeRemark } from '@/lib/workflows/remove-remark';
import { renameBreakdown } from '@/lib/workflows/rename-breakdown';
import { renameRemark } from '@/lib/workflows/rename-remark';
import { reopenBreakdown } from '@/lib/workflows/reopen-breakdown';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { requestExport } from '@/lib/workflows/request-export';
import { retryBreakdown } from '@/lib/workflows/retry-breakdown';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { saveCaptions } from '@/lib/workflows/save-captions';
import { searchTranscripts } from '@/lib/workflows/search-transcripts';
import { startBreakdown } from '@/lib/workflows/start-breakdown';
import { assembleBreakdown } from '@/lib/workflows/assemble-breakdown';
import { buildBreakdown } from '../../support/build-breakdown';
import { buildCoach, buildLead } from '../../support/build';
import { viewerOf } from '../../support/viewers';
import { openStudio, system } from './studio';

let studio: Awaited<ReturnType<typeof openStudio>>;
beforeAll(async () => {
  studio = await openStudio();
});
afterAll(() => studio.close());

const VTT = 'WEBVTT\n\n00:01.000 --> 00:02.500\nKeep the front foot closed.\n';
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

describe('captions', () => {
  test('are kept against a revision; broken ones are refused by line, and nothing is overwritten unseen', async () => {
    const at = await studio.lesson();
    const { breakdownId } = await studio.ready(at);
    const save = (baseRevision: number, vtt: string, isReady = false) =>
      saveCaptions(at.asCoach, { breakdownId, baseRevision, vtt, isReady });
    expect(await save(0, VTT)).toEqual({ kind: 'kept', revision: 1 });
    expect(await save(0, 'WEBVTT')).toMatchObject({ kind: 'conflict', revision: 1 });
    await expect(save(1, 'WEBVTT\n\n00:05.000 --> 00:02.000\nbackwards\n')).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining('Line 3') as string,
    });
    await expect(save(1, 'hello')).rejects.toMatchObject({ fault: 'invalid' });
    expect((await readBreakdown(at.asCoach, breakdownId))!.captions).toMatchObject({
      state: 'draft',
      revision: 1,
    });
    await save(1, VTT, true);
    expect((await readBreakdown(at.asCoach, breakdownId))!.captions).toMatchObject({
      state: 'ready',
      revision: 2,
    });
    await expect(
      saveCaptions(at.asPlayer, { breakdownId, baseRevision: 2, vtt: VTT, isReady: true }),
    ).rejects.toMatchObject({ fault: 'not-found' });
    await expect(askForCaptions(studio.ports, at.asCoach, breakdownId)).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });

  test('are searched through the thread, by those who may see it', async () => {
    const at = await studio.lesson();
    const { breakdownId } = await studio.ready(at);
    await saveCaptions(at.asCoach, { breakdownId, baseRevision: 0, vtt: VTT, isReady: true });
    const search = (viewer: typeof at.asCoach) =>
      searchTranscripts(viewer, { threadId: at.player.threadId as ThreadId, words: 'FOOT closed' });
    expect(await search(at.asCoach)).toMatchObject([
      { breakdownId, startMs: 1000, endMs: 2500, text: 'Keep the front foot closed.' },
    ]);
    expect(await search(at.asPlayer)).toEqual([]);
    await give(at, breakdownId);
    expect(await search(at.asPlayer)).toHaveLength(1);
  });
});

describe('exports', () => {
  test('of a minor’s breakdown: a guardian and staff, written down; not the minor', async () => {
    const at = await studio.lesson();
    const { breakdownId } = await studio.ready(at);
    await give(at, breakdownId);
    const input = { breakdownId, captions: 'burnt' as const };
    await expect(noteExport(studio.ports, at.asPlayer, input)).rejects.toMatchObject({ fault: 'not-found' });
    await noteExport(studio.ports, at.asGuardian, input);
    const exportId = uuid() as ExportId;
    await expect(requestExport(studio.ports, at.asPlayer, { exportId, ...input })).rejects.toMatchObject({
      fault: 'not-found',
    });
    await requestExport(studio.ports, at.asGuardian, { exportId, ...input });
    await requestExport(studio.ports, at.asGuardian, { exportId, ...input });
    expect(studio.ports.jobs.filter((job) => job === `export ${exportId}`)).toHaveLength(1);
    const audit = await prisma.auditEntry.findMany({
      where: { subject: `breakdown:${breakdownId}`, action: 'breakdown.exported' },
    });
    expect(audit.map((line) => line.actorId)).toEqual([at.guardian.id, at.guardian.id]);
    await expect(cancelExport(at.asCoach, exportId)).rejects.toMatchObject({ fault: 'not-found' });
    await cancelExport(at.asGuardian, exportId);
    expect((await readBreakdown(at.asGuardian, breakdownId))!.exports).toMatchObject([
      { state: 'cancelled' },
    ]);
  });

  test('of an adult’s breakdown: the player too', async () => {
    const at = await studio.lesson({ age: 24 });
    const { breakdownId } = await studio.ready(at);
    await give(at, breakdownId);
    await noteExport(studio.ports, at.asPlayer, { breakdownId, captions: 'none' });
    expect(await readBreakdown(at.asPlayer, breakdownId)).toMatchObject({ mayExport: true });
  });
});

test('a reply hangs on a moment of a breakdown that its writer may see', async () => {
  const at = await studio.lesson({ state: 'returned' });
  const { id } = await buildBreakdown(at.lesson, at.coach, { state: 'ready' });
  const reply = (ms: number) =>
    replyInThread(studio.ports, at.asPlayer, {
      id: uuid(),
      lessonId: at.lesson.id,
      body: 'Here?',
      at: null,
      moment: { breakdownId: id, ms },
    });
  await expect(reply(1000)).rejects.toMatchObject({ fault: 'not-found' });
  await give(at, id);
  await expect(reply(4001)).rejects.toMatchObject({ fault: 'invalid' });
  await reply(1000);
  expect(await listReplies(at.asCoach, at.lesson.id)).toMatchObject([
    { moment: { breakdownId: id, ms: 1000 } },
  ]);
});

describe('the shelf of remarks', () => {
  const facts = (seriesId: RemarkId, text = 'Stay tall.') => ({
    ...{ id: uuid() as RemarkId, seriesId, title: 'Stay tall', text },
    ...{ isSpoken: false, durationMs: null },
  });

  test('has the newest version of each; used copies keep theirs', async () => {
    const at = await studio.lesson();
    const seriesId = uuid() as RemarkId;
    const first = facts(seriesId);
    await keepRemark(studio.ports, at.asCoach, first);
    await keepRemark(studio.ports, at.asCoach, first);
    await keepRemark(studio.ports, at.asCoach, facts(seriesId, 'Stay tall through the ball.'));
    await renameRemark(at.asCoach, { seriesId, title: 'Tall' });
    expect(await listRemarks(at.asCoach)).toMatchObject([
      { number: 2, title: 'Tall', text: 'Stay tall through the ball.', isSpoken: false, isStored: true },
    ]);
    await removeRemark(studio.ports, at.asCoach, seriesId);
    expect(await listRemarks(at.asCoach)).toEqual([]);
    expect(await prisma.remark.count({ where: { seriesId } })).toBe(2);
  });

  test('refuses an empty one, and one of somebody else’s series', async () => {
    const at = await studio.lesson();
    await expect(keepRemark(studio.ports, at.asCoach, facts(uuid() as RemarkId, ' '))).rejects.toMatchObject({
      fault: 'invalid',
    });
    const mine = facts(uuid() as RemarkId);
    await keepRemark(studio.ports, at.asCoach, mine);
    const other = await viewerOf(await buildCoach(at.program), at.program);
    await expect(keepRemark(studio.ports, other, facts(mine.seriesId))).rejects.toMatchObject({
      fault: 'not-found',
    });
    await expect(keepRemark(studio.ports, at.asPlayer, facts(uuid() as RemarkId))).rejects.toMatchObject({
      fault: 'not-found',
    });
  });

  test('a spoken one is dropped into a breakdown; one whose voice is not here yet is refused', async () => {
    const at = await studio.lesson();
    const { breakdownId, take, parts } = await studio.ready(at);
    await reopenBreakdown(at.asCoach, breakdownId);
    const id = uuid() as RemarkId;
    await keepRemark(studio.ports, at.asCoach, {
      ...{ id, seriesId: uuid() as RemarkId, title: 'Why closed', text: '' },
      ...{ isSpoken: true, durationMs: 2000 },
    });
    const recipe = studio.recipe(at.clip.id, [
      { segmentId: take.segmentId, fromMs: 0, toMs: 1000 },
      { segmentId: id, kind: 'remark', fromMs: 0, toMs: 2000 },
    ]);
    const keep = () => keepBreakdown(studio.ports, at.asCoach, { breakdownId, recipe, parts });
    await expect(keep()).rejects.toMatchObject({ fault: 'not-found' });
    const spoken = await studio.take(at.clip.id, { seconds: 2, count: 1 });
    const voice = spoken.parts[0]!.subarray(spoken.parts[0]!.indexOf(10) + 1);
    const bytes = writePart(
      {
        ...{ version: 1, segmentId: id, number: 0, voiceType: 'audio/webm', fromMs: 0, toMs: 2000 },
        events: [],
      },
      voice,
    );
    await claimPart(studio.ports, at.asCoach, { remarkId: id }, bytes.length);
    await at.storage.put(remarkKey(id), { bytes });
    await finishPart(
      { clock: studio.ports.clock, storage: at.storage },
      system,
      { remarkId: id },
      {
        ...{ senderId: at.asCoach.personId, storageKey: remarkKey(id), sizeBytes: bytes.length, md5: 'x' },
      },
    );
    expect(await claimPart(studio.ports, at.asCoach, { remarkId: id }, 1)).toEqual({ isStored: true });
    expect(await keep()).toEqual({ kind: 'assembling' });
    expect(await assembleBreakdown(studio.assemblePorts(at.storage), system, breakdownId)).toEqual({
      state: 'ready',
    });
    expect(await readBreakdown(at.asCoach, breakdownId)).toMatchObject({ durationMs: 3000, fault: null });
  });
});
