import { exportBreakdown } from '@/lib/review/export/export-breakdown';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import type { Task } from '../frames/measure';
import { beginTake, joinRecording, openRecording, readLeft, type Recording } from './record-page';
import { checkReplay } from './replay-check';
import { recordAndJudge, takePictures, type Legibility, type ScreenPlan } from './legible';
import { recordScreen } from './screen-recording';
import { openStand, runScript, type Stand } from './stand';
import { measureSync } from './sync';
import type { TakenOut } from './worker-export';

// The page of the benchmark: the program's own recorder and replay on a clip with numbers in its pictures.

let task: Task | null = null;
let stand: Stand | null = null;
let recording: Recording | null = null;
let framesSeen = 0;

const opened = (): Stand => {
  if (!stand) throw new Error('Open the stand first.');
  return stand;
};
const clip = (): Task => {
  if (!task) throw new Error('Open the stand first.');
  return task;
};

const open = async (given: Task): Promise<void> => {
  task = given;
  stand = await openStand(given);
  recording = openRecording(stand);
};

/** Begins a take and goes on with the script until the page is killed. */
const recordOn = async (): Promise<void> => {
  if (!recording) throw new Error('Open the stand first.');
  await beginTake(recording);
  let last = opened().player.getSnapshot().shownFrame;
  framesSeen = 0;
  opened().player.subscribe(() => {
    const { shownFrame } = opened().player.getSnapshot();
    if (shownFrame !== last) framesSeen += 1;
    last = shownFrame;
  });
  void runScript(opened(), 600_000);
};
/** How far the take is: its length, and how often another frame was shown. */
const reached = () => ({ ms: recording?.session.getSnapshot().ms ?? 0, framesSeen });
const left = async () => (recording ? readLeft(recording.session) : null);

const scriptOnly = (ms: number) => runScript(opened(), ms);

const breakdown = async (ms: number): Promise<{ bytes: number; voiceBytes: number; takeMs: number }> => {
  if (!recording) throw new Error('Open the stand first.');
  await beginTake(recording);
  await runScript(opened(), ms);
  await recording.session.stop();
  while (recording.session.getSnapshot().partsSent < recording.session.getSnapshot().partsMade)
    await new Promise((resolve) => requestAnimationFrame(resolve));
  return { ...recording.sent, takeMs: recording.session.getSnapshot().ms };
};

const screen = (ms: number, bits: number): Promise<number> =>
  recordScreen(opened(), bits, () => runScript(opened(), ms));

let taken: Awaited<ReturnType<typeof takePictures>> = [];
/** Plays one round of the script and keeps every picture of it for `screenLegibility`. */
const takeRound = async (roundMs: number): Promise<number> => {
  taken = await takePictures(opened(), roundMs);
  return taken.length;
};
/** How legible such a screen recording of the round that was taken is: see the README. */
const screenLegibility = (plan: Omit<ScreenPlan, 'numbers'>): Promise<Legibility> =>
  recordAndJudge(taken, { ...plan, numbers: clip().numbers });

const sync = (ms: number) => measureSync(opened(), ms);

const replay = async (times: number, plan: { seeks: number; playMs: number }) => {
  if (!recording) throw new Error('Nothing was recorded.');
  return checkReplay(await joinRecording(recording, times), clip(), plan);
};

/** How many times faster than it lasts a breakdown becomes a file, its pictures alone. */
const exported = async (): Promise<{ times: number; bytes: number }> => {
  if (!recording) throw new Error('Nothing was recorded.');
  const { timeline } = await joinRecording(recording, 1);
  const began = performance.now();
  const file = await exportBreakdown({
    timeline,
    voice: null,
    openSource: () => openFrameSource({ url: clip().url, table: clip().table }),
    captions: null,
    how: 'none',
  });
  return { times: timeline.durationMs / (performance.now() - began), bytes: file.size };
};

/** The timeline as JSON and the recorder's own bytes in Base64, for a worker. */
const takenOut = async (): Promise<TakenOut> => {
  if (!recording) throw new Error('Nothing was recorded.');
  const { timeline, bytes } = await joinRecording(recording, 1);
  const letters = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return { timeline: JSON.stringify(timeline), voice: btoa(letters) };
};

const bench = {
  open,
  recordOn,
  reached,
  left,
  scriptOnly,
  breakdown,
  screen,
  takeRound,
  screenLegibility,
  sync,
  replay,
  exported,
  takenOut,
};
export type BreakdownPage = typeof bench;
Object.assign(window, { breakdownBench: bench });
