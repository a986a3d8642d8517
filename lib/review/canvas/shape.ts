import { getStroke } from 'perfect-freehand';
import { distanceToPath, pixelDistance, type PictureSize, type Pixel } from '@/lib/domain/marks/geometry';
import { angleLabel } from '@/lib/domain/marks/on-screen-angle';
import type { Chalk, FramePoint, Mark } from '@/lib/domain/marks/mark';

/** Width of a stroke and how much wider its dark edge is, in CSS pixels. */
export const STROKE = 3.5;
export const EDGE = 4;
/** Size of the words on a mark in CSS pixels, whatever the zoom. */
export const LABEL_SIZE = 16;
export const LABEL_FONT = `${LABEL_SIZE}px "Atkinson Hyperlegible", Verdana, sans-serif`;

/** The chalk's own colours, the same on canvas and in SVG. */
export const CHALK_COLOUR = { white: '#FFFDF6', clay: '#F0936A', sky: '#8CC4EC' } as const satisfies Record<
  Chalk,
  string
>;
export const EDGE_COLOUR = '#0B0F10';
export const EDGE_OPACITY = 0.78;
export const LABEL_OPACITY = 0.86;

/** A part of a drawn mark, in target pixels. Strokes and outlines are laid twice: the edge, then the colour. */
export type ShapePart =
  | { readonly type: 'stroke'; readonly d: string; readonly width: number; readonly dash: readonly number[] }
  | { readonly type: 'outline'; readonly edge: string; readonly body: string }
  | {
      readonly type: 'label';
      readonly text: string;
      readonly at: Pixel;
      readonly anchor: 'start' | 'middle';
      readonly colour: string;
    };

const n = (value: number) => String(Math.round(value * 100) / 100);
const at = ([x, y]: Pixel) => `${n(x)} ${n(y)}`;
const segment = (a: Pixel, b: Pixel) => `M${at(a)}L${at(b)}`;
const stroke = (d: string, dash: readonly number[] = []): ShapePart => ({
  type: 'stroke',
  d,
  width: STROKE,
  dash,
});

/**
 * What a mark looks like: parts in drawing order. `project` takes frame points to target pixels (a stage in CSS
 * pixels, or an SVG of the size it is shown at); `picture` is the rendition's size, for the value of an angle.
 */
export const shapeOf = (mark: Mark, picture: PictureSize, project: (p: FramePoint) => Pixel): ShapePart[] => {
  switch (mark.kind) {
    case 'line':
      return [stroke(segment(project(mark.points[0]), project(mark.points[1])))];
    case 'arrow':
      return [stroke(arrowPath(project(mark.points[0]), project(mark.points[1])))];
    case 'circle': {
      const centre = project(mark.points[0]);
      return [stroke(ringPath(centre, pixelDistance(centre, project(mark.points[1]))))];
    }
    case 'plumb':
      return [stroke(segment(project(mark.points[0]), project(mark.points[1])), [10, 10])];
    case 'freehand': {
      const path = mark.points.map(project);
      return [
        {
          type: 'outline',
          edge: outlinePath(path, STROKE + 0.5 + EDGE),
          body: outlinePath(path, STROKE + 0.5),
        },
      ];
    }
    case 'text': {
      const colour = CHALK_COLOUR[mark.chalk];
      return [{ type: 'label', text: mark.text, at: project(mark.points[0]), anchor: 'start', colour }];
    }
    case 'angle':
      return angleParts(mark, picture, project);
    default:
      return mark satisfies never;
  }
};

const angleParts = (
  mark: Extract<Mark, { kind: 'angle' }>,
  picture: PictureSize,
  project: (p: FramePoint) => Pixel,
): ShapePart[] => {
  const [a, v, b] = [project(mark.points[0]), project(mark.points[1]), project(mark.points[2])];
  const arms = stroke(`M${at(a)}L${at(v)}L${at(b)}`);
  const [toA, toB] = [direction(v, a), direction(v, b)];
  const radius = Math.min(36, pixelDistance(v, a) / 2, pixelDistance(v, b) / 2);
  if (!toA || !toB || radius < 2) return [arms];
  const sweep = toA[0] * toB[1] - toA[1] * toB[0] > 0 ? 1 : 0;
  const [from, to] = [along(v, toA, radius), along(v, toB, radius)];
  const arc = stroke(`M${at(from)}A${n(radius)} ${n(radius)} 0 0 ${sweep} ${at(to)}`);
  // Straight arms have no middle between them: the words then stand to one side.
  const middle = direction([0, 0], [toA[0] + toB[0], toA[1] + toB[1]]) ?? [-toA[1], toA[0]];
  const text = angleLabel(mark, picture);
  // Far enough out that the words' box clears the arc, whichever way the angle opens.
  const reach =
    Math.abs(middle[0]) * (guessTextWidth(text) / 2 + 7) + Math.abs(middle[1]) * (LABEL_SIZE / 2 + 5);
  const place = along(v, middle, radius + 8 + reach);
  return [
    arms,
    arc,
    {
      type: 'label',
      text,
      at: place,
      anchor: 'middle',
      colour: CHALK_COLOUR.white,
    },
  ];
};

const direction = (from: Pixel, to: Pixel): Pixel | null => {
  const length = pixelDistance(from, to);
  return length < 1e-6 ? null : [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
};
const along = (from: Pixel, way: Pixel, length: number): Pixel => [
  from[0] + way[0] * length,
  from[1] + way[1] * length,
];

const arrowPath = (tail: Pixel, head: Pixel): string => {
  const way = direction(head, tail);
  if (!way) return segment(tail, head);
  const size = Math.min(18, pixelDistance(tail, head) * 0.6);
  const side = (turn: 1 | -1) => {
    const angle = (turn * 27 * Math.PI) / 180;
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    return along(head, [way[0] * cos - way[1] * sin, way[0] * sin + way[1] * cos], size);
  };
  return `${segment(tail, head)}M${at(side(1))}L${at(head)}L${at(side(-1))}`;
};

const ringPath = ([x, y]: Pixel, radius: number): string => {
  const r = n(radius);
  return `M${n(x - radius)} ${n(y)}A${r} ${r} 0 1 1 ${n(x + radius)} ${n(y)}A${r} ${r} 0 1 1 ${n(x - radius)} ${n(y)}Z`;
};

const outlinePath = (path: readonly Pixel[], size: number): string => {
  // Stored points are already smoothed and thinned, so the outline follows them; the width is even because pressure is not kept.
  const outline = getStroke(
    path.map(([x, y]) => [x, y]),
    { size, thinning: 0, streamline: 0, smoothing: 0.5, simulatePressure: false, last: true },
  );
  const [first, ...rest] = outline;
  if (!first) return '';
  const curve = rest.map((p, i) => {
    const next = rest[i + 1] ?? first;
    return `Q${at(p)} ${at([(p[0] + next[0]) / 2, (p[1] + next[1]) / 2])}`;
  });
  return `M${at(first)}${curve.join('')}Z`;
};

/** A label's box and the start of its words, in target pixels. */
export interface LabelBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly textLeft: number;
  readonly baseline: number;
}

/** Where a label's dark box stands, kept inside the target as far as it fits. `textWidth` in target pixels. */
export const labelBox = (
  label: { readonly at: Pixel; readonly anchor: 'start' | 'middle' },
  textWidth: number,
  target: PictureSize,
): LabelBox => {
  const [padX, padY] = [7, 5];
  const width = textWidth + 2 * padX;
  const height = LABEL_SIZE + 2 * padY;
  const keepIn = (start: number, length: number, room: number) => Math.max(0, Math.min(start, room - length));
  const left = keepIn(label.at[0] - (label.anchor === 'middle' ? width / 2 : 0), width, target.width);
  const top = keepIn(label.at[1] - height / 2, height, target.height);
  return { left, top, width, height, textLeft: left + padX, baseline: top + padY + LABEL_SIZE * 0.8 };
};

/** About how wide words are where nothing can measure them: on the wide side, so that the box is never too small. */
export const guessTextWidth = (text: string): number => text.length * LABEL_SIZE * 0.56;

/** Distance in target pixels from a place to a mark's words, 0 inside their box; infinite when it has none. */
export const distanceToLabel = (part: ShapePart, place: Pixel, target: PictureSize): number => {
  if (part.type !== 'label') return Infinity;
  const box = labelBox(part, guessTextWidth(part.text), target);
  const x = Math.max(box.left, Math.min(place[0], box.left + box.width));
  const y = Math.max(box.top, Math.min(place[1], box.top + box.height));
  return distanceToPath(place, [[x, y]]);
};
