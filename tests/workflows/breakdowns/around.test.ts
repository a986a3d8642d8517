import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { prisma } from '@/lib/data/client';
import { listRemarks } from '@/lib/data/remarks.read';
import { listReplies } from '@/lib/data/replies.read';
import { remarkKey } from '@/lib/domain/breakdowns/files';
import { readPart, writePart } from '@/lib/domain/breakdowns/parse-part';
import type { BreakdownId, ExportId, RemarkId, ThreadId } from '@/lib/domain/shared/ids';
import { askForCaptions } from '@/lib/workflows/ask-for-captions';
import { cancelExport } from '@/lib/workflows/cancel-export';
import { claimPart } from '@/lib/workflows/claim-part';
import { finishPart } from '@/lib/workflows/finish-part';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { keepRemark } from '@/lib/workflows/keep-remark';
import { noteExport } from '@/lib/workflows/note-export';
import { removeRemark } from '@/lib/workflows/remove-remark';
import { renameRemark } from '@/lib/workflows/rename-remark';
import { reopenBreakdown } from '@/lib/workflows/reopen-breakdown';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { requestExport } from '@/lib/workflows/request-export';
import { saveCaptions } from '@/lib/workflows/save-captions';
import { searchTranscripts } from '@/lib/workflows/search-transcripts';
import { assembleBreakdown } from '@/lib/workflows/assemble-breakdown';
import { buildBreakdown } from '../../support/build-breakdown';
import { buildCoach } from '../../support/build';
import { viewerOf } from '../../support/viewers';
import { openStudio, system } from './studio';

let studio: Awaited<ReturnType<typeof openStudio>>;
beforeAll(async () => {
  studio = await openStudio();
});
afterAll(() => studio.close());

const VTT = 'WEBVTT\n\n00:01.000 --> 00:02.500\nKeep the front foot closed.\n';
type At = Awaited<ReturnType<typeof studio.lesson>>;
const give = async (at: At, id: BreakdownId) => {
  await prisma.breakdown.update({ where: { id }, data: { givenAt: new Date() } });
  await prisma.lesson.update({ where: { id: at.lesson.id }, data: { state: 'returned' } });
};

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
    const search = async (viewer: typeof at.asCoach) =>
      (await searchTranscripts(viewer, { threadId: at.player.threadId as ThreadId, words: 'FOOT closed' }))
        .hits;
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
  expect((await listReplies(at.asCoach, at.lesson.id)).rows).toMatchObject([
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
    expect((await listRemarks(at.asCoach)).rows).toMatchObject([
      { number: 2, title: 'Tall', text: 'Stay tall through the ball.', isSpoken: false, isStored: true },
    ]);
    await removeRemark(studio.ports, at.asCoach, seriesId);
    expect((await listRemarks(at.asCoach)).rows).toEqual([]);
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
    const { voice } = readPart(spoken.parts[0]!);
    const bytes = writePart(
      {
        ...{ version: 2, segmentId: id, number: 0, voiceType: 'audio/webm', fromMs: 0, toMs: 2000 },
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
