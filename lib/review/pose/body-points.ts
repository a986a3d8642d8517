import type { ClipView } from '@/lib/domain/clips/clip';
import type { Hand } from '@/lib/domain/lessons/state';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { TRACK_NAMES, type TrackName, type Tracks } from '@/lib/domain/measures/events';
import type { JointName } from '@/lib/domain/measures/names';
import type { ModelPoint } from './pose-protocol';

/** A rectangle of the picture in fractions of its width and height. */
export interface PictureBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A point that the model proposes. Nobody has confirmed it. */
export interface SuggestedJoint {
  readonly name: JointName;
  readonly point: FramePoint;
}

type Side = 'left' | 'right';

// The model's 33 points (BlazePose GHUM 3D), by the person's own left and right.
const PLACE = {
  ear: { left: 7, right: 8 },
  shoulder: { left: 11, right: 12 },
  wrist: { left: 15, right: 16 },
  hip: { left: 23, right: 24 },
  knee: { left: 25, right: 26 },
  ankle: { left: 27, right: 28 },
  heel: { left: 29, right: 30 },
  toe: { left: 31, right: 32 },
} as const;
type Part = keyof typeof PLACE;

/** Less sure than this and a point is left out (our own choice). */
const LEAST_VISIBILITY = 0.4;

const partOf = (points: readonly ModelPoint[], part: Part, side: Side) => points[PLACE[part][side]];

const sure = (point: ModelPoint | undefined): FramePoint | null =>
  point &&
  point.visibility >= LEAST_VISIBILITY &&
  point.x >= 0 &&
  point.x <= 1 &&
  point.y >= 0 &&
  point.y <= 1
    ? { x: point.x, y: point.y }
    : null;

const between = (a: FramePoint | null, b: FramePoint | null): FramePoint | null =>
  a && b && { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };

/** Points of a cut-out as points of the whole picture. */
export const onPicture = (points: readonly ModelPoint[], box: PictureBox): readonly ModelPoint[] =>
  points.map(({ x, y, visibility }) => ({
    x: box.x + x * box.width,
    y: box.y + y * box.height,
    visibility,
  }));

/** Whether a batter can stand like this: no ankle above its hip. The model sometimes turns a body upside down. */
export const isPossible = (points: readonly ModelPoint[]): boolean =>
  (['left', 'right'] as const).every((side) => {
    const [hip, ankle] = [partOf(points, 'hip', side), partOf(points, 'ankle', side)];
    return hip !== undefined && ankle !== undefined && ankle.y > hip.y;
  });

// Where the pitcher is in the picture: 1 to the right, -1 to the left, 0 along the view.
const pitcherSide = (view: ClipView | null, bats: Hand): number => {
  if (view !== 'open_side' && view !== 'back') return 0;
  return (view === 'open_side') === (bats === 'right') ? 1 : -1;
};

/** A quarter of the height of a leg: less than that between the ankles says nothing about their order. */
const LEAST_STRIDE = 0.25;

/**
 * The side of the body that strides: left for who bats right. Seen from the side the stride foot is the one nearer to
 * the pitcher, and where the model has it the other way round, it took left for right.
 */
const strideSide = (points: readonly ModelPoint[], bats: Hand, view: ClipView | null): Side => {
  const [front, rear]: readonly [Side, Side] = bats === 'right' ? ['left', 'right'] : ['right', 'left'];
  const [ankle, other] = [partOf(points, 'ankle', front), partOf(points, 'ankle', rear)];
  const hip = partOf(points, 'hip', front);
  if (!ankle || !other || !hip) return front;
  const ahead = (ankle.x - other.x) * pitcherSide(view, bats);
  return ahead < -LEAST_STRIDE * (ankle.y - hip.y) ? rear : front;
};

/**
 * The hitter's points that the model can honestly propose, in fractions of the picture. The head is the middle of the
 * ears; the belt is the middle of the hips, a little below the buckle. Heels and toes are those of the foot, not of the
 * sole on the ground. Points it is not sure of, and those of an impossible body, are left out.
 */
export const suggestJoints = (
  points: readonly ModelPoint[],
  bats: Hand,
  view: ClipView | null,
): readonly SuggestedJoint[] => {
  if (!isPossible(points)) return [];
  const stride = strideSide(points, bats, view);
  const rear = stride === 'left' ? 'right' : 'left';
  const at = (part: Part, side: Side) => sure(partOf(points, part, side));
  const found: Record<JointName, FramePoint | null> = {
    'stride-heel': at('heel', stride),
    'stride-toe': at('toe', stride),
    'rear-heel': at('heel', rear),
    'rear-toe': at('toe', rear),
    head: between(at('ear', 'left'), at('ear', 'right')),
    belt: between(at('hip', 'left'), at('hip', 'right')),
    'front-knee': at('knee', stride),
    'front-ankle': at('ankle', stride),
    'front-shoulder': at('shoulder', stride),
    'rear-shoulder': at('shoulder', rear),
  };
  return Object.entries(found).flatMap(([name, point]) =>
    point ? [{ name: name as JointName, point }] : [],
  );
};

const TRACKED: Record<TrackName, readonly [Part, Side]> = {
  'left-wrist': ['wrist', 'left'],
  'right-wrist': ['wrist', 'right'],
  'left-hip': ['hip', 'left'],
  'right-hip': ['hip', 'right'],
  'left-ankle': ['ankle', 'left'],
  'right-ankle': ['ankle', 'right'],
  'left-toe': ['toe', 'left'],
  'right-toe': ['toe', 'right'],
};

/** What was found on one frame after another as tracks in pixels; frames with nobody or an impossible body are gaps. */
export const tracksOf = (
  frames: readonly (readonly ModelPoint[] | null)[],
  { width, height }: PictureSize,
): Tracks => {
  const possible = frames.map((points) => (points && isPossible(points) ? points : null));
  const track = (name: TrackName) =>
    possible.map((points) => {
      const point = points && partOf(points, ...TRACKED[name]);
      return point ? { x: point.x * width, y: point.y * height } : null;
    });
  return Object.fromEntries(TRACK_NAMES.map((name) => [name, track(name)]));
};
