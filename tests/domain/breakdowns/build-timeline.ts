import * as fc from 'fast-check';
import type { BreakdownEvent, Scene } from '@/lib/domain/breakdowns/event';
import type { Piece, Recipe, Timeline } from '@/lib/domain/breakdowns/timeline';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { buildScene as sceneOf } from '../../support/build-scene';
import { aMark, aPoint, buildMark } from '../marks/build-mark';

export const CLIP = '018f5e2a-0000-7000-8000-00000000c11b';
export const OTHER_CLIP = '018f5e2a-0000-7000-8000-00000000c12b';
export const FRAMES = 400;

/** What is seen at the start: frame 138 of the clip, whole, nothing drawn. */
export const buildScene = (overrides: Partial<Scene> = {}): Scene =>
  sceneOf({ clipId: CLIP, frame: 138, speed: 0.25, ...overrides });

/** A timeline over two clips that begins with `buildScene`; give the events that follow. */
export const buildTimeline = (
  events: readonly BreakdownEvent[] = [],
  overrides: Partial<Timeline> = {},
): Timeline => ({
  version: 1,
  clips: [
    { clipId: CLIP, frameCount: FRAMES },
    { clipId: OTHER_CLIP, frameCount: FRAMES },
  ],
  durationMs: 60_000,
  hasVoice: true,
  events: [{ t: 0, kind: 'scene', scene: buildScene() }, ...events],
  ...overrides,
});

export const buildPiece = (overrides: Partial<Piece> = {}): Piece => ({
  segmentId: '018f5e2a-0000-7000-8000-0000000005e6',
  kind: 'voice',
  fromMs: 0,
  toMs: 10_000,
  ...overrides,
});

export const buildRecipe = (pieces: Piece[] = [buildPiece()]): Recipe => ({
  version: 1,
  clips: [{ clipId: CLIP, frameCount: FRAMES }],
  pieces,
});

/** Few ids, so that marks are really replaced, grown and rubbed out. */
const IDS = [1, 2, 3, 4].map((n) => `018f5e2a-0000-7000-8000-00000000a00${n}`);
const anId = fc.constantFrom(...IDS);
const aClip = fc.constantFrom(CLIP, OTHER_CLIP);
const aFrame = fc.nat(FRAMES - 1);
const aLook = fc.record({ x: fc.constant(0.4), y: fc.constant(0.6), zoom: fc.integer({ min: 1, max: 8 }) });
const aBeside = fc.option(fc.record({ clipId: aClip, frame: aFrame, opacity: fc.constantFrom(0, 0.5) }));
const aCheckpoint = fc.option(fc.constantFrom(...CHECKPOINTS));
const anItem = fc.option(fc.constantFrom('front-foot', 'head-still'));

const aScene: fc.Arbitrary<Scene> = fc.record({
  clipId: aClip,
  frame: aFrame,
  speed: fc.constantFrom(0.25, 1),
  isPlaying: fc.boolean(),
  look: aLook,
  checkpoint: aCheckpoint,
  itemId: anItem,
  marks: fc.uniqueArray(
    anId.chain((id) => aMark(id)),
    { maxLength: 3, selector: (mark) => mark.id },
  ),
  isChalkShown: fc.boolean(),
  pointer: fc.option(aPoint()),
  beside: aBeside,
  caption: fc.constantFrom('', 'Stay back.'),
});

type Untimed = BreakdownEvent extends infer E ? (E extends BreakdownEvent ? Omit<E, 't'> : never) : never;

const aChange: fc.Arbitrary<Untimed> = fc.oneof(
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('scene' as const), scene: aScene }) },
  { weight: 6, arbitrary: fc.record({ kind: fc.constant('frame' as const), clipId: aClip, frame: aFrame }) },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('play' as const),
      isPlaying: fc.boolean(),
      speed: fc.constantFrom(0.25, 1),
    }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('look' as const), look: aLook }) },
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('choose' as const), checkpoint: aCheckpoint, itemId: anItem }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant('mark' as const), mark: anId.chain((id) => aMark(id)) }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      kind: fc.constant('grow' as const),
      id: anId,
      points: fc.array(aPoint(), { minLength: 1, maxLength: 5 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('rub' as const),
      ids: fc.uniqueArray(anId, { minLength: 1, maxLength: 2 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('chalk' as const), isShown: fc.boolean() }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('point' as const), at: fc.option(aPoint()) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('beside' as const), beside: aBeside }) },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('caption' as const), text: fc.constantFrom('', 'Watch.') }),
  },
);

/** Events of a whole take: a scene at 0, then anything, in order, some at the same millisecond. */
export const someEvents = (durationMs: number, maxLength = 400): fc.Arbitrary<BreakdownEvent[]> =>
  fc
    .tuple(aScene, fc.array(fc.tuple(fc.nat(durationMs), aChange), { maxLength, size: 'max' }))
    .map(([scene, changes]) => [
      { t: 0, kind: 'scene' as const, scene },
      ...changes
        .sort(([a], [b]) => a - b)
        .map(([t, change]): BreakdownEvent => ({ t, ...change }) as BreakdownEvent),
    ]);

export { buildMark };
