import { describe, expect, it } from 'vitest';
import { TRACK_NAMES } from '@/lib/domain/measures/events';
import { JOINT_NAMES } from '@/lib/domain/measures/names';
import { isPossible, onPicture, suggestJoints, tracksOf } from '@/lib/review/pose/body-points';
import type { ModelPoint } from '@/lib/review/pose/pose-protocol';

// Places of the model's points: the list of BlazePose GHUM 3D's model card, 33 points, person's own left before right.
const PLACES = {
  ear: [7, 8],
  shoulder: [11, 12],
  wrist: [15, 16],
  hip: [23, 24],
  knee: [25, 26],
  ankle: [27, 28],
  heel: [29, 30],
  toe: [31, 32],
} as const;
const HEIGHTS = {
  ear: 0.2,
  shoulder: 0.3,
  wrist: 0.35,
  hip: 0.5,
  knee: 0.7,
  ankle: 0.85,
  heel: 0.9,
  toe: 0.91,
};

type Change = Partial<Record<keyof typeof PLACES, Partial<ModelPoint>>>;

/** Somebody upright whose left side lies at x 0.6 and whose right side at 0.4. */
function buildBody(change: Change = {}): ModelPoint[] {
  const body = Array.from({ length: 33 }, (): ModelPoint => ({ x: 0.5, y: 0.1, visibility: 1 }));
  for (const [part, [left, right]] of Object.entries(PLACES)) {
    const y = HEIGHTS[part as keyof typeof HEIGHTS];
    const also = change[part as keyof typeof PLACES];
    body[left] = { x: 0.6, y, visibility: 1, ...also };
    body[right] = { x: 0.4, y, visibility: 1, ...also };
  }
  return body;
}

const mirrored = (body: readonly ModelPoint[]) => body.map((point) => ({ ...point, x: 1 - point.x }));
const xOf = (joints: ReturnType<typeof suggestJoints>, name: string) =>
  joints.find((joint) => joint.name === name)?.point.x;

describe('points that the model proposes', () => {
  it('are all ten of an upright body, the head between the ears and the belt between the hips', () => {
    const joints = suggestJoints(buildBody(), 'right', 'open_side');
    expect(joints.map(({ name }) => name).sort()).toEqual([...JOINT_NAMES].sort());
    expect(joints.find(({ name }) => name === 'head')?.point).toEqual({ x: 0.5, y: 0.2 });
    expect(joints.find(({ name }) => name === 'belt')?.point).toEqual({ x: 0.5, y: 0.5 });
  });

  it.each([
    // Who bats right strides with the left foot. From the open side the pitcher is at the right, from the back at the left.
    { bats: 'right', view: 'open_side', body: buildBody(), stride: 0.6, rear: 0.4 },
    { bats: 'left', view: 'open_side', body: buildBody(), stride: 0.4, rear: 0.6 },
    { bats: 'right', view: 'back', body: mirrored(buildBody()), stride: 0.4, rear: 0.6 },
    { bats: 'left', view: 'back', body: mirrored(buildBody()), stride: 0.6, rear: 0.4 },
    // From in front and behind nothing but the model's own left and right is known.
    { bats: 'right', view: 'front', body: mirrored(buildBody()), stride: 0.4, rear: 0.6 },
    { bats: 'right', view: null, body: buildBody(), stride: 0.6, rear: 0.4 },
    // Taken left for right: the foot nearer to the pitcher strides all the same.
    { bats: 'right', view: 'open_side', body: mirrored(buildBody()), stride: 0.6, rear: 0.4 },
    { bats: 'left', view: 'back', body: buildBody(), stride: 0.6, rear: 0.4 },
  ] as const)('know the stride leg: bats $bats, $view', ({ bats, view, body, stride, rear }) => {
    const joints = suggestJoints(body, bats, view);
    expect(xOf(joints, 'stride-heel')).toBeCloseTo(stride);
    expect(xOf(joints, 'front-knee')).toBeCloseTo(stride);
    expect(xOf(joints, 'rear-toe')).toBeCloseTo(rear);
  });

  it('leave out what the model is not sure of, and what lies outside the picture', () => {
    const names = (change: Change) => suggestJoints(buildBody(change), 'right', null).map(({ name }) => name);
    expect(names({ heel: { visibility: 0.2 } })).not.toContain('stride-heel');
    expect(names({ heel: { visibility: 0.2 } })).toContain('stride-toe');
    expect(names({ toe: { y: 1.02 } })).not.toContain('rear-toe');
    expect(names({ ear: { visibility: 0 } })).not.toContain('head');
  });

  it('are none of a body that stands on its head', () => {
    const upside = buildBody({ ankle: { y: 0.45 } });
    expect(isPossible(upside)).toBe(false);
    expect(suggestJoints(upside, 'right', 'open_side')).toEqual([]);
    expect(isPossible(buildBody())).toBe(true);
    expect(isPossible([])).toBe(false);
  });
});

describe('a cut-out', () => {
  it('is laid back into the whole picture', () => {
    const box = { x: 0.25, y: 0.5, width: 0.5, height: 0.25 };
    expect(onPicture([{ x: 0.5, y: 1, visibility: 0.7 }], box)).toEqual([
      { x: 0.5, y: 0.75, visibility: 0.7 },
    ]);
  });
});

describe('tracks', () => {
  it('are in pixels, with gaps where nobody or an impossible body was found', () => {
    const tracks = tracksOf([buildBody(), null, buildBody({ ankle: { y: 0.1 } })], {
      width: 200,
      height: 100,
    });
    expect(Object.keys(tracks).sort()).toEqual([...TRACK_NAMES].sort());
    expect(tracks['left-hip']).toEqual([{ x: 120, y: 50 }, null, null]);
    expect(tracks['right-wrist']).toEqual([{ x: 80, y: 35 }, null, null]);
  });
});
