import { copyFile } from 'node:fs/promises';
import path from 'node:path';
import { ALL_FORMATS, FilePathSource, Input } from 'mediabunny';
import { v7 as uuid } from 'uuid';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { prisma } from '@/lib/data/client';
import { timelineFile } from '@/lib/domain/breakdowns/files';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Mark } from '@/lib/domain/marks/mark';
import type { BreakdownId, ExportId } from '@/lib/domain/shared/ids';
import { planFilm } from '@/lib/review/export/film-plan';
import { cancelExport } from '@/lib/workflows/cancel-export';
import { removeBreakdown } from '@/lib/workflows/remove-breakdown';
import { renderExport } from '@/lib/workflows/render-export';
import { requestExport } from '@/lib/workflows/request-export';
import { saveCaptions } from '@/lib/workflows/save-captions';
import { makeClip } from '../../support/media/make-clip';
import { readBack } from '../../support/media/read-back';
import { openStudio, system } from './studio';

const FRAMES = 120;
const SIZE = { width: 320, height: 180 };
const VTT = 'WEBVTT\n\n00:01.000 --> 00:03.000\nKeep the front foot closed.\n';
let studio: Awaited<ReturnType<typeof openStudio>>;
let rendition: string;
beforeAll(async () => {
  studio = await openStudio();
  const original = studio.bench.at('counted.mp4');
  await makeClip({ path: original, frames: FRAMES, ...SIZE });
  const { folder } = await studio.bench.prepare(original);
  rendition = path.join(folder, 'review.mp4');
});
afterAll(() => studio.close());

/** A breakdown that jumps, steps back, runs and draws, over a clip whose frames carry their numbers. */
async function filmed() {
  const at = await studio.lesson();
  const shown = await readBack(rendition);
  const { width = 0, height = 0 } = shown.frames[0]!;
  await prisma.clip.update({ where: { id: at.clip.id }, data: { width, height, frameCount: FRAMES } });
  await at.storage.put(`clips/${at.clip.id}/review.mp4`, { path: rendition });
  const { breakdownId } = await studio.ready(at);
  const key = `breakdowns/${breakdownId}/${timelineFile(1)}`;
  const clipId = at.clip.id as string;
  const frame = (t: number, n: number): BreakdownEvent => ({ t, kind: 'frame', clipId, frame: n });
  const stored = Buffer.concat(await (await at.storage.read(key))!.toArray()).toString();
  const timeline = parseTimeline(JSON.parse(stored));
  const events: BreakdownEvent[] = [
    timeline.events[0]!,
    frame(300, 97),
    frame(700, 12),
    ...Array.from({ length: 30 }, (_, n) => frame(1000 + n * 40, 40 + n)),
    frame(2500, 68),
    frame(2900, 67),
    frame(3300, 119),
  ];
  await at.storage.put(key, { bytes: Buffer.from(JSON.stringify({ ...timeline, events })) });
  await saveCaptions(at.asCoach, { breakdownId, baseRevision: 0, vtt: VTT, isReady: true });
  return { ...at, breakdownId, index: indexTimeline({ events, durationMs: timeline.durationMs }) };
}
type Filmed = Awaited<ReturnType<typeof filmed>>;
const portsFor = (at: Filmed) => ({
  ...{ storage: at.storage, engine: studio.bench.engine, clock: studio.ports.clock },
  ...{ log: studio.ports.log, planFilm },
});
const ask = async (at: Filmed, captions: 'none' | 'track' | 'burnt') => {
  const exportId = uuid() as ExportId;
  await requestExport(studio.ports, at.asGuardian, { exportId, breakdownId: at.breakdownId, captions });
  return exportId;
};
const give = (id: BreakdownId) => prisma.breakdown.update({ where: { id }, data: { givenAt: new Date() } });
const fileOf = async (at: Filmed, exportId: ExportId) => {
  const copy = studio.bench.at(`${exportId}.mp4`);
  const local = await at.storage.local(`breakdowns/${at.breakdownId}/export-${exportId}.mp4`);
  await copyFile(local.path, copy);
  return copy;
};

test.each(['none', 'track'] as const)(
  'a file with captions "%s" shows at every picture the frame that the player shows then',
  async (captions) => {
    const at = await filmed();
    await give(at.breakdownId);
    const exportId = await ask(at, captions);
    expect(await renderExport(portsFor(at), system, exportId)).toBe('ready');
    const film = await fileOf(at, exportId);
    const { timeBase, frames } = await readBack(film);
    expect(frames.length).toBeGreaterThan(35);
    for (const { ticks, counter } of frames) {
      const ms = Math.round((ticks * timeBase.num * 1000) / timeBase.den);
      expect({ ms, counter }).toEqual({ ms, counter: sceneAt(at.index, ms).frame });
    }
    const input = new Input({ source: new FilePathSource(film), formats: ALL_FORMATS });
    const [video, audio] = [await input.getPrimaryVideoTrack(), await input.getPrimaryAudioTrack()];
    expect([video!.codec, audio!.codec]).toEqual(['avc', 'aac']);
    expect(Math.abs((await video!.computeDuration()) - 4)).toBeLessThan(0.05);
    expect(Math.abs((await audio!.computeDuration()) - 4)).toBeLessThan(0.1);
    // ISO/IEC 14496-30: WebVTT in MP4 has sample entries of the type "wvtt".
    const bytes = Buffer.concat(
      await (await at.storage.read(`breakdowns/${at.breakdownId}/export-${exportId}.mp4`))!.toArray(),
    );
    expect(bytes.includes('wvtt')).toBe(captions === 'track');
    expect((await readBreakdown(at.asGuardian, at.breakdownId))!.exports).toMatchObject([
      { id: exportId, state: 'ready', progress: 100, file: `export-${exportId}.mp4` },
    ]);
  },
);

test('burnt-in captions and marks are in the picture, where they belong and at no other time', async () => {
  const at = await filmed();
  const size = { width: 320, height: 180 };
  const events = [...at.index.events];
  const mark: Mark = {
    version: 1,
    id: uuid(),
    clipId: at.clip.id,
    frame: 68,
    span: 1,
    chalk: 'clay',
    itemId: null,
    hidden: false,
    kind: 'line',
    points: [
      { x: 0.1, y: 0.5 },
      { x: 0.9, y: 0.5 },
    ],
  };
  events.splice(
    events.findIndex((event) => event.t === 2900),
    0,
    { t: 2600, kind: 'mark', mark },
  );
  const timeline = parseTimeline({
    ...{ version: 1, durationMs: 4000, hasVoice: true, events },
    clips: [{ clipId: at.clip.id, frameCount: FRAMES }],
  });
  const plan = planFilm(timeline, new Map([[at.clip.id as string, size]]), [
    { fromMs: 1000, toMs: 3000, text: 'Closed {\\b1}foot' },
  ]);
  const lines = plan.script.split('\n').filter((line) => line.startsWith('Dialogue:'));
  const timesOf = (words: string) =>
    lines
      .filter((line) => line.includes(words))
      .map((line) =>
        line
          .split(',')
          .slice(1, 3)
          .map((clock) => Number(clock.split(':')[2]!) + 60 * Number(clock.split(':')[1]!)),
      );
  const at10 = (ms: number) => plan.pictures.findIndex((picture) => picture.atMs >= ms) / 10;
  expect(timesOf('Closed (')).toEqual([[at10(1000), at10(3000)]]);
  // Clay, #F0936A, as the format writes colours.
  expect(timesOf('\\1c&H6A93F0&')).toEqual([[at10(2600), at10(2900)]]);
});

test('cancelled in the middle it ends and leaves nothing; what cannot be read is told; a removed one is not made', async () => {
  const at = await filmed();
  await give(at.breakdownId);
  const exportId = await ask(at, 'none');
  const engine = {
    workspace: studio.bench.engine.workspace,
    renderFilm: async (...[job, options]: Parameters<typeof studio.bench.engine.renderFilm>) => {
      await cancelExport(at.asGuardian, exportId);
      options.onProgress?.(10);
      await expect.poll(() => options.signal?.aborted).toBe(true);
      return studio.bench.engine.renderFilm(job, options);
    },
  };
  expect(await renderExport({ ...portsFor(at), engine }, system, exportId)).toBe('nothing-to-do');
  expect((await at.storage.list(`breakdowns/${at.breakdownId}`)).some((key) => key.includes('export'))).toBe(
    false,
  );

  const second = await ask(at, 'none');
  await prisma.clip.update({ where: { id: at.clip.id }, data: { frameCount: 99 } });
  expect(await renderExport(portsFor(at), system, second)).toBe('failed');
  const { exports } = (await readBreakdown(at.asGuardian, at.breakdownId))!;
  const failed = exports.find((one) => one.id === second);
  expect(failed).toMatchObject({ state: 'failed' });
  expect(failed!.fault).toContain('A file cannot be made of it');

  const third = await ask(at, 'none');
  await removeBreakdown({ clock: studio.ports.clock, storage: at.storage }, at.asCoach, at.breakdownId);
  expect(await renderExport(portsFor(at), system, third)).toBe('nothing-to-do');
});
