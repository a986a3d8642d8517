import type { Mark } from '@/lib/domain/marks/mark';
import {
  CHALK_COLOUR,
  EDGE,
  EDGE_COLOUR,
  EDGE_OPACITY,
  guessTextWidth,
  labelBox,
  LABEL_OPACITY,
  LABEL_SIZE,
  shapeOf,
} from './shape';

/** One SVG element with its attributes under their React names; `text` is plain, the renderer escapes it. */
export type SvgPart =
  | {
      readonly tag: 'path';
      readonly d: string;
      readonly fill: string;
      readonly fillOpacity: number;
      readonly stroke: string;
      readonly strokeOpacity: number;
      readonly strokeWidth: number;
      readonly strokeDasharray: string | undefined;
    }
  | {
      readonly tag: 'rect';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly fill: string;
      readonly fillOpacity: number;
    }
  | {
      readonly tag: 'text';
      readonly x: number;
      readonly y: number;
      readonly fontSize: number;
      readonly fill: string;
      readonly text: string;
    };

/**
 * A mark as SVG parts for `viewBox="0 0 width height"`, edge first. Give the size in CSS pixels that the picture is
 * shown at (its own proportions), so that strokes and words come out as on the bench. Caps and joins are round.
 * A hidden mark has no parts.
 */
export const markToSvg = (mark: Mark, width: number, height: number): SvgPart[] => {
  if (mark.hidden) return [];
  const target = { width, height };
  const colour = CHALK_COLOUR[mark.chalk];
  return shapeOf(mark, target, (p) => [p.x * width, p.y * height]).flatMap((part): SvgPart[] => {
    switch (part.type) {
      case 'stroke': {
        const dash = part.dash.length > 0 ? part.dash.join(' ') : undefined;
        return [
          line(part.d, EDGE_COLOUR, EDGE_OPACITY, part.width + EDGE, dash),
          line(part.d, colour, 1, part.width, dash),
        ];
      }
      case 'outline':
        return [area(part.edge, EDGE_COLOUR, EDGE_OPACITY), area(part.body, colour, 1)];
      case 'label': {
        const box = labelBox(part, guessTextWidth(part.text), target);
        const { left: x, top: y } = box;
        return [
          {
            tag: 'rect',
            x,
            y,
            width: box.width,
            height: box.height,
            fill: EDGE_COLOUR,
            fillOpacity: LABEL_OPACITY,
          },
          {
            tag: 'text',
            x: box.textLeft,
            y: box.baseline,
            fontSize: LABEL_SIZE,
            fill: part.colour,
            text: part.text,
          },
        ];
      }
      default:
        return part satisfies never;
    }
  });
};

const line = (
  d: string,
  stroke: string,
  strokeOpacity: number,
  strokeWidth: number,
  strokeDasharray?: string,
): SvgPart => ({
  tag: 'path',
  d,
  fill: 'none',
  fillOpacity: 1,
  stroke,
  strokeOpacity,
  strokeWidth,
  strokeDasharray,
});
const area = (d: string, fill: string, fillOpacity: number): SvgPart => ({
  tag: 'path',
  d,
  fill,
  fillOpacity,
  stroke: 'none',
  strokeOpacity: 1,
  strokeWidth: 0,
  strokeDasharray: undefined,
});
