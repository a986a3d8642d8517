import * as fc from 'fast-check';
import { CHALKS, type FramePoint, type Mark, type MarkKind } from '@/lib/domain/marks/mark';

export const CLIP = '018f5e2a-0000-7000-8000-00000000c11b';

let made = 0;
/** A fresh UUID that tells runs apart by counting, not by chance. */
export const nextId = () => `018f5e2a-0000-7000-8000-${(made += 1).toString(16).padStart(12, '0')}`;

const POINTS: Record<MarkKind, FramePoint[]> = {
  line: [
    { x: 0.2, y: 0.3 },
    { x: 0.6, y: 0.7 },
  ],
  arrow: [
    { x: 0.2, y: 0.3 },
    { x: 0.6, y: 0.7 },
  ],
  circle: [
    { x: 0.5, y: 0.5 },
    { x: 0.6, y: 0.5 },
  ],
  angle: [
    { x: 0.3, y: 0.3 },
    { x: 0.5, y: 0.5 },
    { x: 0.7, y: 0.5 },
  ],
  freehand: [
    { x: 0.1, y: 0.1 },
    { x: 0.2, y: 0.15 },
    { x: 0.3, y: 0.3 },
  ],
  text: [{ x: 0.4, y: 0.2 }],
  plumb: [
    { x: 0.5, y: 0.1 },
    { x: 0.5, y: 0.6 },
  ],
};

/** A valid mark of a kind; the test says only what it cares about. */
export const buildMark = <K extends MarkKind>(
  kind: K,
  overrides: Partial<Extract<Mark, { kind: K }>> = {},
): Extract<Mark, { kind: K }> =>
  ({
    version: 1,
    id: nextId(),
    clipId: CLIP,
    frame: 138,
    span: 1,
    chalk: 'white',
    itemId: null,
    hidden: false,
    kind,
    points: POINTS[kind],
    ...(kind === 'text' ? { text: 'stay back' } : {}),
    ...overrides,
  }) as unknown as Extract<Mark, { kind: K }>;

/** Points inside the picture, away from subnormal numbers. */
export const aPoint = (): fc.Arbitrary<FramePoint> =>
  fc.record({ x: fc.integer({ min: 0, max: 1000 }), y: fc.integer({ min: 0, max: 1000 }) }).map((p) => ({
    x: p.x / 1000,
    y: p.y / 1000,
  }));

/** Any mark of any kind, with the given id if one is given. */
export const aMark = (id?: string): fc.Arbitrary<Mark> =>
  fc
    .record({
      kind: fc.constantFrom<MarkKind>('line', 'arrow', 'circle', 'angle', 'freehand', 'text', 'plumb'),
      points: fc.array(aPoint(), { minLength: 3, maxLength: 12 }),
      chalk: fc.constantFrom(...CHALKS),
      frame: fc.nat(400),
      span: fc.integer({ min: 1, max: 9 }),
      id: id ? fc.constant(id) : fc.uuid(),
    })
    .map(({ kind, points, ...rest }) => {
      const count = { line: 2, arrow: 2, circle: 2, angle: 3, freehand: points.length, text: 1, plumb: 2 }[
        kind
      ];
      const used = points.slice(0, count);
      const upright = used.map((p) => ({ x: used[0]!.x, y: p.y }));
      return buildMark(kind, { ...rest, points: kind === 'plumb' ? upright : used } as never) as Mark;
    });
