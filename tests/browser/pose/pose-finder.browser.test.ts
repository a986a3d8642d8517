import { afterEach, describe, expect, test, vi } from 'vitest';
import type { JointName } from '@/lib/domain/measures/names';
import { median } from '@/lib/domain/measures/smooth';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { isPossible, suggestJoints } from '@/lib/review/pose/body-points';
import { momentsFrom, planFrames } from '@/lib/review/pose/find-moments';
import { PoseFinder, readPoseOffer, type PoseProgress } from '@/lib/review/pose/pose-finder';
import { knownClip, type KnownClip } from './known-clip';

const open: { dispose(): void }[] = [];
afterEach(() => {
  for (const one of open.splice(0)) one.dispose();
});

async function sourceOf(name: KnownClip) {
  const clip = knownClip(name);
  const source = await openFrameSource({ url: clip.url, table: clip.table });
  open.push(source);
  return { clip, source };
}
const finderWith = (start?: () => Worker) => {
  const finder = new PoseFinder(start);
  open.push(finder);
  return finder;
};
const quietly = () => ({ signal: new AbortController().signal, onProgress: () => {} });

const JOINT_IN_TRUTH = {
  'stride-heel': ['Heel', 'stride'],
  'stride-toe': ['Toe', 'stride'],
  'rear-heel': ['Heel', 'rear'],
  'rear-toe': ['Toe', 'rear'],
  'front-knee': ['Knee', 'stride'],
  'front-ankle': ['Ankle', 'stride'],
  'front-shoulder': ['Shoulder', 'stride'],
  'rear-shoulder': ['Shoulder', 'rear'],
} as const satisfies Partial<Record<JointName, readonly [string, 'stride' | 'rear']>>;

describe('the pose model on clips whose every joint is known', () => {
  test.each(['fifteen-1-open-side', 'eleven-1-open-side'] as const)(
    'finds the hitter on nearly every frame, the joints near their places and the moments: %s',
    { timeout: 120_000 },
    async (name) => {
      const { clip, source } = await sourceOf(name);
      const finder = finderWith();
      const seen: PoseProgress[] = [];
      const plan = planFrames(clip.table, clip.contact);
      const found = await finder.find(source, plan.frames, clip.box, {
        signal: new AbortController().signal,
        onProgress: (progress) => seen.push(progress),
      });
      expect(seen[0]?.is).toBe('loading');
      expect(seen.at(-1)).toEqual({ is: 'looking', done: plan.frames.length, of: plan.frames.length });

      const possible = found.filter((points) => points !== null && isPossible(points));
      const strideOf = clip.bats === 'right' ? 'left' : 'right';
      const rearOf = clip.bats === 'right' ? 'right' : 'left';
      const near = [clip.toeDown, clip.toeDown + 1, clip.toeDown + 2];
      const errors = near.flatMap((frame) => {
        const points = found[plan.frames.indexOf(frame)];
        return suggestJoints(points ?? [], clip.bats, 'open_side').flatMap(({ name: joint, point }) => {
          if (!(joint in JOINT_IN_TRUTH)) return [];
          const [part, foot] = JOINT_IN_TRUTH[joint as keyof typeof JOINT_IN_TRUTH];
          const truth = clip.jointAt(frame, `${foot === 'stride' ? strideOf : rearOf}${part}`);
          return [Math.hypot(point.x * clip.width - truth.x, point.y * clip.height - truth.y)];
        });
      });
      const moments = momentsFrom(plan, found, source);
      console.info(
        `${name}: ${possible.length} of ${found.length} frames, joints off by ${median(errors).toFixed(1)} px (median of ` +
          `${errors.length}), foot strike ${moments?.footStrike} (true ${clip.toeDown}), contact ${moments?.contact} ` +
          `(true ${clip.contact})`,
      );
      expect(possible.length / found.length).toBeGreaterThan(0.9);
      expect(errors.length).toBeGreaterThanOrEqual(18);
      // A tenth of this hitter's height is about 50 pixels.
      expect(median(errors)).toBeLessThan(15);
      // The foot's way is often too unsteady for a frame; then foot strike is left to the coach instead of guessed.
      const strikeError = moments?.footStrike == null ? 0 : Math.abs(moments.footStrike - clip.toeDown);
      expect(strikeError).toBeLessThanOrEqual(1);
      expect(Math.abs(moments!.contact - clip.contact)).toBeLessThanOrEqual(5);
    },
  );
});

describe('a search', () => {
  test('says what it costs before anything is loaded', async () => {
    const offer = await readPoseOffer();
    expect(offer?.bytes).toBeGreaterThan(15e6);
    expect(offer?.bytes).toBeLessThan(30e6);
  });

  test('finds nobody in a box with nobody in it', { timeout: 60_000 }, async () => {
    const { source } = await sourceOf('fifteen-1-open-side');
    const box = { x: 0, y: 0, width: 0.15, height: 0.2 };
    expect(await finderWith().find(source, [0], box, quietly())).toEqual([null]);
  });

  test('that is stopped ends its worker and can be asked again', { timeout: 60_000 }, async () => {
    const { clip, source } = await sourceOf('fifteen-1-open-side');
    const started = vi.fn(() => new Worker('/pose/worker.mjs', { type: 'module' }));
    const finder = finderWith(started);
    const stop = new AbortController();
    const search = finder.find(
      source,
      clip.table.ptsUs.map((_, i) => i),
      clip.box,
      {
        signal: stop.signal,
        onProgress: (progress) => {
          if (progress.is === 'looking' && progress.done === 1) stop.abort();
        },
      },
    );
    await expect(search).rejects.toMatchObject({ name: 'AbortError' });
    expect(await finder.find(source, [clip.toeDown], clip.box, quietly())).toHaveLength(1);
    expect(started).toHaveBeenCalledTimes(2);
  });

  test.each([
    ['too-old', 'unsupported', /too old to suggest/],
    ['out-of-memory', 'unsupported', /not enough memory/],
    ['model-missing', 'unavailable', /could not be loaded/],
    ['broken', 'internal', /did not work on this device/],
  ] as const)('refuses in words: %s', async (fault, kind, words) => {
    const { clip, source } = await sourceOf('fifteen-1-open-side');
    const text = `postMessage(${JSON.stringify({ is: 'failed', fault, detail: '' })})`;
    const address = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
    const search = finderWith(() => new Worker(address)).find(source, [0], clip.box, quietly());
    await expect(search).rejects.toMatchObject({ fault: kind, forPeople: expect.stringMatching(words) });
    URL.revokeObjectURL(address);
  });

  test('without the worker of the model is refused as something that could not be loaded', async () => {
    const { clip, source } = await sourceOf('fifteen-1-open-side');
    const finder = finderWith(() => new Worker('/no-such-folder/worker.mjs', { type: 'module' }));
    await expect(finder.find(source, [0], clip.box, quietly())).rejects.toMatchObject({
      fault: 'unavailable',
    });
  });
});
