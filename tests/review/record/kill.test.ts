import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { killTrial } from '../../bench/breakdown/kill';
import type { Task } from '../../bench/frames/measure';
import { serveBench } from '../../bench/frames/serve';
import { makeClip } from '../../support/media/make-clip';

const FRAMES = 60;
let folder: string;
let server: Awaited<ReturnType<typeof serveBench>>;
let task: Task;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'kill-'));
  const clip = await makeClip({
    path: path.join(folder, 'swing.mp4'),
    frames: FRAMES,
    width: 320,
    height: 180,
    gop: 6,
  });
  server = await serveBench(folder, 'tests/bench/breakdown/page.html');
  const ptsUs = clip.shownTicks.map((tick) => Math.round((tick * 1e6) / clip.timescale));
  task = {
    url: '/clips/swing.mp4',
    table: { version: 1, width: 320, height: 180, ptsUs, fileRate: null, captureRate: null },
    numbers: clip.shownFrames,
  };
}, 120_000);
afterAll(async () => {
  await server.close();
  await rm(folder, { recursive: true, force: true, maxRetries: 5 });
});

test.each([2300, 11_400])(
  'a browser killed %i ms into a take offers it again, but for less than its last second',
  async (atMs) => {
    const kill = await killTrial(path.join(folder, `profile-${atMs}`), server.url, task, atMs);
    expect(kill.reachedMs).toBeGreaterThanOrEqual(atMs);
    expect(kill.voiceLostMs).toBeLessThan(1000);
    // The script changes the frame at most once a display frame, so this is what one second can hold.
    expect(kill.eventsLost).toBeLessThan(60);
  },
  120_000,
);
