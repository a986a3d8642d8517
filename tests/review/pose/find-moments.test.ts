import { describe, expect, it } from 'vitest';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { momentsFrom, planFrames } from '@/lib/review/pose/find-moments';
import type { ModelPoint } from '@/lib/review/pose/pose-protocol';
import { DEMO_CLIPS } from '../../support/swing/demo-clips';
import type { Joint } from '../../support/swing/pose';
import { swingOf } from '../../support/swing/swing';
import { seenAt } from '../../support/measures/filming';
import { filmingFrom } from '../../domain/measures/build-input';

const buildTable = (
  count: number,
  captureRate: number | null,
  fileRate: number | null = null,
): FrameTable => ({
  ...{ version: 1, width: 1280, height: 720, captureRate, fileRate },
  ptsUs: Array.from({ length: count }, (_, i) => Math.round((i * 1e6) / (fileRate ?? captureRate ?? 60))),
});

describe('the frames that are looked at', () => {
  it('are all of a short clip at 60 a second', () => {
    const { frames, rate } = planFrames(buildTable(100, 60), 50);
    expect(frames).toHaveLength(100);
    expect(rate).toBe(60);
  });

  it('are every fourth at 240 a second, also where the file plays slower than it was taken', () => {
    const { frames, rate } = planFrames(buildTable(400, 240, 30), 0);
    expect(frames.slice(0, 3)).toEqual([0, 4, 8]);
    expect(frames.at(-1)).toBeLessThan(400);
    expect(rate).toBe(60);
  });

  it('are four seconds around the frame on the stage when the clip is long, and stay inside it', () => {
    const table = buildTable(3000, 60);
    for (const around of [0, 1500, 2999]) {
      const { frames } = planFrames(table, around);
      expect(frames).toHaveLength(240);
      expect(frames[0]).toBeGreaterThanOrEqual(0);
      expect(frames.at(-1)).toBeLessThan(3000);
      expect(frames[0]! <= around && around <= frames.at(-1)!).toBe(true);
    }
  });

  it('go by the times of the file when no rate is known', () => {
    expect(planFrames({ ...buildTable(90, null), fileRate: null }, 0).rate).toBeCloseTo(60, 1);
    expect(planFrames({ ...buildTable(1, null), ptsUs: [0] }, 0).frames).toEqual([0]);
  });
});

describe('moments of what was found', () => {
  const RATE = 240;
  const START = -1.25;
  const PLACES: readonly (readonly [number, Joint])[] = [
    [15, 'leftWrist'],
    [16, 'rightWrist'],
    [23, 'leftHip'],
    [24, 'rightHip'],
    [27, 'leftAnkle'],
    [28, 'rightAnkle'],
    [31, 'leftToe'],
    [32, 'rightToe'],
  ];
  const swing = swingOf({ ...DEMO_CLIPS[0]!.hitter, bats: 'right' });
  const filming = filmingFrom(0);
  const bodyAt = (frame: number): ModelPoint[] => {
    const { joints } = swing.poseAt(START + frame / RATE);
    const body = Array.from({ length: 33 }, (): ModelPoint => ({ x: 0.5, y: 0.5, visibility: 1 }));
    for (const [place, joint] of PLACES) {
      const { x, y } = seenAt(filming, joints[joint]);
      body[place] = { x: x / filming.width, y: y / filming.height, visibility: 1 };
    }
    return body;
  };

  it('are frames of the clip, though only every fourth was looked at', () => {
    const plan = planFrames(buildTable(400, RATE), 200);
    const moments = momentsFrom(plan, plan.frames.map(bodyAt), filming)!;
    // Toe down within one frame of 60 a second; hands are fastest some frames before contact.
    expect(Math.abs(moments.footStrike! - (swing.timing.toe - START) * RATE)).toBeLessThanOrEqual(4);
    expect(Math.abs(moments.contact + START * RATE)).toBeLessThan(18);
  });

  it('are none when nobody was found or nobody swings', () => {
    const plan = planFrames(buildTable(60, 60), 0);
    expect(
      momentsFrom(
        plan,
        plan.frames.map(() => null),
        filming,
      ),
    ).toBeNull();
    expect(
      momentsFrom(
        plan,
        plan.frames.map(() => bodyAt(0)),
        filming,
      ),
    ).toBeNull();
  });
});
