import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Prisma } from '../../lib/data/generated/client';
import { breakdownFolder, timelineFile, voiceFile } from '../../lib/domain/breakdowns/files';
import type { BreakdownEvent, Look } from '../../lib/domain/breakdowns/event';
import { parseTimeline } from '../../lib/domain/breakdowns/parse-timeline';
import type { Timeline } from '../../lib/domain/breakdowns/timeline';
import type { Cue } from '../../lib/domain/captions/cue';
import { writeVtt } from '../../lib/domain/captions/write-vtt';
import type { Checkpoint } from '../../lib/domain/checkpoints/checkpoint';
import type { Sheet } from '../../lib/domain/review/sheet';
import { env } from '../../lib/platform/env';
import { createStorage } from '../../lib/platform/storage';
import { demoId } from './ids';
import { SPOKEN } from './spoken';

const FOLDER = path.resolve(import.meta.dirname, 'voice');
const WHOLE: Look = { x: 0.5, y: 0.5, zoom: 1 };
const CLOSE = 2.4;
const SLOW = 0.25;
/** A mark is drawn so long after its sentence has begun, and after the one before it. */
const HAND_MS = 700;

/** The lesson that has a breakdown, and whose. */
export const SPOKEN_LESSON = 'caleb-2';

interface Times {
  durationMs: number;
  lines: { fromMs: number; toMs: number }[];
}

/** What the breakdown is spoken over. */
export interface SpokenOver {
  clipId: string;
  frameCount: number;
  /** Pictures a second as they were taken. */
  rate: number;
  sheet: Sheet;
  /** What the coach drew while speaking; some of it was measured later instead. */
  marks: Sheet['marks'];
  /** Where a part of the hitter lies at a checkpoint, as fractions of the picture. */
  at(checkpoint: Checkpoint, part: string): { x: number; y: number };
}

const readTimes = async (): Promise<Times> =>
  JSON.parse(await readFile(path.join(FOLDER, `${SPOKEN_LESSON}.json`), 'utf8')) as Times;

function timelineOf(times: Times, over: SpokenOver): Timeline {
  const { clipId, sheet } = over;
  const frameAt = (checkpoint: Checkpoint) =>
    sheet.pins.find((pin) => pin.checkpoint === checkpoint)?.frame ?? 0;
  const events: BreakdownEvent[] = [
    {
      t: 0,
      kind: 'scene',
      scene: {
        clipId,
        frame: frameAt('stance'),
        speed: SLOW,
        isPlaying: false,
        look: WHOLE,
        checkpoint: 'stance',
        itemId: null,
        marks: [],
        isChalkShown: true,
        pointer: null,
        beside: null,
        caption: '',
      },
    },
  ];
  let checkpoint: Checkpoint = 'stance';
  for (const [index, line] of SPOKEN.entries()) {
    const { fromMs: t = 0, toMs = 0 } = times.lines[index] ?? {};
    checkpoint = line.checkpoint ?? checkpoint;
    if (line.checkpoint) {
      events.push({ t, kind: 'choose', checkpoint, itemId: line.itemId ?? null });
      events.push({ t, kind: 'frame', clipId, frame: frameAt(checkpoint) });
    }
    if (line.looksAt === 'whole') events.push({ t, kind: 'look', look: WHOLE });
    else if (line.looksAt)
      events.push({ t, kind: 'look', look: { ...over.at(checkpoint, line.looksAt), zoom: CLOSE } });
    const drawn = over.marks.filter((mark) => mark.itemId === line.draws);
    for (const [n, mark] of drawn.entries()) events.push({ t: t + HAND_MS * (n + 1), kind: 'mark', mark });
    if (!line.plays) continue;
    const [from, to] = [frameAt(line.plays.from), frameAt(line.plays.to)];
    events.push({ t: toMs, kind: 'play', isPlaying: true, speed: SLOW });
    for (let frame = from; frame <= to; frame++) {
      const at = toMs + Math.round(((frame - from) * 1000) / (over.rate * SLOW));
      events.push({ t: at, kind: 'frame', clipId, frame });
    }
    const restsAt = toMs + Math.round(((to - from) * 1000) / (over.rate * SLOW));
    events.push({ t: restsAt, kind: 'play', isPlaying: false, speed: SLOW });
    checkpoint = line.plays.to;
  }
  return parseTimeline({
    version: 1,
    clips: [{ clipId, frameCount: over.frameCount }],
    durationMs: times.durationMs,
    hasVoice: true,
    events: events.sort((a, b) => a.t - b.t),
  });
}

/** Writes the demo's breakdown: its files into the storage, its row, and how far the player's side has watched. */
export async function writeBreakdown(
  tx: Prisma.TransactionClient,
  lesson: { id: string; coachId: string; at: Date; player: string; guardian: string },
  over: SpokenOver,
): Promise<void> {
  const id = demoId(`${SPOKEN_LESSON}/breakdown`);
  const times = await readTimes();
  const voice = await readFile(path.join(FOLDER, `${SPOKEN_LESSON}.webm`));
  const timeline = Buffer.from(JSON.stringify(timelineOf(times, over)));
  const storage = createStorage({ dataFolder: env.DATA_DIR, uploadthingToken: env.UPLOADTHING_TOKEN });
  await storage.put(`${breakdownFolder(id)}/${voiceFile(1, 'audio/webm')}`, { bytes: voice });
  await storage.put(`${breakdownFolder(id)}/${timelineFile(1)}`, { bytes: timeline });
  const cues: Cue[] = SPOKEN.map((line, index) => ({
    ...(times.lines[index] ?? { fromMs: 0, toMs: 1 }),
    text: line.say,
  }));
  await tx.breakdown.create({
    data: {
      id,
      lessonId: lesson.id,
      byId: lesson.coachId,
      title: 'Your front foot',
      state: 'ready',
      takes: 1,
      readyTake: 1,
      durationMs: times.durationMs,
      voiceType: 'audio/webm',
      sizeBytes: BigInt(voice.length + timeline.length),
      captionState: 'ready',
      captions: writeVtt(cues),
      captionsRevision: 1,
      createdAt: lesson.at,
      readyAt: lesson.at,
      givenAt: lesson.at,
    },
  });
  const day = new Date(lesson.at.getTime() + 24 * 3_600_000);
  await tx.breakdownView.createMany({
    data: [
      {
        ...{ breakdownId: id, personId: lesson.player, updatedAt: day, completedAt: day },
        ...{ positionMs: times.durationMs, furthestMs: times.durationMs },
      },
      {
        ...{ breakdownId: id, personId: lesson.guardian, updatedAt: day },
        ...{ positionMs: 14_000, furthestMs: 14_000 },
      },
    ],
  });
}
