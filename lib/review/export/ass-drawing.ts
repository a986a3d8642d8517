import { CHALK_COLOUR, EDGE_COLOUR } from '../canvas/shape';

type Place = readonly [number, number];

// Drawings of Advanced SubStation Alpha: filled outlines only, so that strokes become outlines here. The format is
// described in libass's wiki (https://github.com/libass/libass/wiki/ASSv5-Override-Tags) and in TCax's notes on it.
const PRECISION = 8; // \p4: coordinates in eighths of a pixel
const unit = (value: number) => String(Math.round(value * PRECISION));
const at = ([x, y]: Place) => `${unit(x)} ${unit(y)}`;

/** `#RRGGBB` as the format writes colours: blue, green, red. */
export const assColour = (hex: string): string => `&H${hex.slice(5, 7)}${hex.slice(3, 5)}${hex.slice(1, 3)}&`;
/** How much is seen through: 0 for opaque, as two hexadecimal digits. */
export const assAlpha = (opacity: number): string =>
  `&H${Math.round((1 - opacity) * 255)
    .toString(16)
    .padStart(2, '0')}&`;

/** A filled outline of one colour. Each list of places is one closed outline. */
export const assFill = (outlines: readonly (readonly Place[])[], colour: string, opacity: number): string => {
  const d = outlines
    .filter((outline) => outline.length > 2)
    .map(([first, ...rest]) => `m ${first ? at(first) : ''} l ${rest.map(at).join(' ')}`)
    .join(' ');
  return `{\\an7\\pos(0,0)\\bord0\\shad0\\1c${assColour(colour)}\\1a${assAlpha(opacity)}\\p4}${d}{\\p0}`;
};

/** Words beginning at a place, its left edge and their middle height; `size` in pixels. */
export const assWords = (text: string, [x, y]: Place, colour: string, size: number): string =>
  `{\\an4\\pos(${x.toFixed(1)},${y.toFixed(1)})\\fs${Math.round(size)}\\bord0\\shad0\\1c${assColour(colour)}}${plainAss(text)}`;

/** Words without anything that the format takes for a command. */
export const plainAss = (text: string): string =>
  text
    .replace(/\\/g, '\u2216')
    .replace(/[{}]/g, (brace) => (brace === '{' ? '(' : ')'))
    .replace(/\n/g, '\\N');

/** The polylines of a path made of `M`, `L`, `Q`, `A` (circles) and `Z` in absolute coordinates. */
export function flattenPath(d: string): { places: Place[]; isClosed: boolean }[] {
  const lines: { places: Place[]; isClosed: boolean }[] = [];
  for (const [, command = '', rest = ''] of d.matchAll(/([MLQAZ])([^MLQAZ]*)/g)) {
    const numbers = (rest.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
    const line = lines.at(-1);
    const last = line?.places.at(-1);
    const n = (index: number) => numbers[index] ?? 0;
    if (command === 'M') lines.push({ places: [[n(0), n(1)]], isClosed: false });
    else if (!line || !last) continue;
    else if (command === 'L') line.places.push([n(0), n(1)]);
    else if (command === 'Q') line.places.push(...quadratic(last, [n(0), n(1)], [n(2), n(3)]));
    else if (command === 'A') line.places.push(...arc(last, n(0), n(3) === 1, n(4) === 1, [n(5), n(6)]));
    else line.isClosed = true;
  }
  return lines;
}

const quadratic = (a: Place, c: Place, b: Place): Place[] =>
  [0.25, 0.5, 0.75, 1].map((t) => [
    (1 - t) ** 2 * a[0] + 2 * t * (1 - t) * c[0] + t ** 2 * b[0],
    (1 - t) ** 2 * a[1] + 2 * t * (1 - t) * c[1] + t ** 2 * b[1],
  ]);

/** A part of a circle as places (SVG 2, appendix "Conversion from endpoint to center parameterization", for equal radii). */
const arc = (from: Place, radius: number, isLarge: boolean, isSweep: boolean, to: Place): Place[] => {
  const [dx, dy] = [(to[0] - from[0]) / 2, (to[1] - from[1]) / 2];
  const half = Math.hypot(dx, dy);
  const r = Math.max(radius, half, 1e-6);
  const off = Math.sqrt(Math.max(0, r * r - half * half)) * (isLarge === isSweep ? -1 : 1);
  const centre: Place =
    half < 1e-9
      ? from
      : [(from[0] + to[0]) / 2 - (off * dy) / half, (from[1] + to[1]) / 2 + (off * dx) / half];
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  let turn = Math.atan2(to[1] - centre[1], to[0] - centre[0]) - start;
  if (isSweep && turn <= 0) turn += 2 * Math.PI;
  if (!isSweep && turn >= 0) turn -= 2 * Math.PI;
  const steps = Math.max(4, Math.ceil(Math.abs(turn) * 8));
  return Array.from({ length: steps }, (_, step) => {
    const angle = start + (turn * (step + 1)) / steps;
    return [centre[0] + r * Math.cos(angle), centre[1] + r * Math.sin(angle)] as const;
  });
};

/** Cuts a polyline into dashes. `dash` is the length that is drawn and the length that is not. */
const dashed = (places: readonly Place[], dash: readonly number[]): Place[][] => {
  const [on = 0, off = 0] = dash;
  if (on <= 0) return [[...places]];
  return places.slice(1).flatMap((end, index) => {
    const begin = places[index] ?? end;
    const length = Math.hypot(end[0] - begin[0], end[1] - begin[1]);
    const point = (along: number): Place => [
      begin[0] + ((end[0] - begin[0]) * along) / (length || 1),
      begin[1] + ((end[1] - begin[1]) * along) / (length || 1),
    ];
    const dashes: Place[][] = [];
    for (let along = 0; along < length; along += on + off)
      dashes.push([point(along), point(Math.min(length, along + on))]);
    return dashes;
  });
};

const disc = ([x, y]: Place, radius: number): Place[] =>
  Array.from({ length: 12 }, (_, step) => {
    const angle = (step * Math.PI) / 6;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)] as const;
  });

/** The outlines of a stroke of that width along a path, with round ends and joins; all turn the same way. */
export const strokeOutlines = (d: string, width: number, dash: readonly number[], scale: number): Place[][] =>
  flattenPath(d).flatMap(({ places, isClosed }) => {
    const [first] = places;
    const closed = isClosed && first ? [...places, first] : places;
    const radius = (width * scale) / 2;
    return dashed(
      closed.map(([x, y]) => [x * scale, y * scale] as const),
      dash.map((length) => length * scale),
    ).flatMap((line) => [
      ...line.map((place) => disc(place, radius)),
      ...line.slice(1).map((end, index): Place[] => {
        const begin = line[index] ?? end;
        const length = Math.hypot(end[0] - begin[0], end[1] - begin[1]) || 1;
        const across: Place = [
          (-(end[1] - begin[1]) * radius) / length,
          ((end[0] - begin[0]) * radius) / length,
        ];
        return [
          [begin[0] - across[0], begin[1] - across[1]],
          [end[0] - across[0], end[1] - across[1]],
          [end[0] + across[0], end[1] + across[1]],
          [begin[0] + across[0], begin[1] + across[1]],
        ];
      }),
    ]);
  });

/** The colours a film is drawn with besides the marks' own. */
export const FILM_COLOURS = { words: CHALK_COLOUR.white, edge: EDGE_COLOUR } as const;
