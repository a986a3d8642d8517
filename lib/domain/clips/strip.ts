import * as z from 'zod';

/**
 * The geometry of `strip.jpg`, a sheet of small pictures in rows of `cols` from the top left. Tile `i` stands in
 * column `i % cols` of row `floor(i / cols)`, is `tileWidth` by `tileHeight` pixels and shows the frame `frames[i]`
 * (display index; rising; first and last frame included).
 */
export const stripSchema = z.object({
  version: z.literal(1),
  cols: z.int().positive(),
  rows: z.int().positive(),
  tileWidth: z.int().positive(),
  tileHeight: z.int().positive(),
  frames: z.array(z.int().nonnegative()).min(1),
});
export type Strip = z.infer<typeof stripSchema>;

/** Spreads up to `most` frame indexes evenly over a clip of `count` frames, first and last included. */
export function spreadFrames(count: number, most: number): number[] {
  const tiles = Math.min(count, most);
  if (tiles <= 1) return count > 0 ? [0] : [];
  return Array.from({ length: tiles }, (_, tile) => Math.round((tile * (count - 1)) / (tiles - 1)));
}

/** The tile of the strip that is nearest to a frame. */
export function tileNearest(strip: Strip, frame: number): number {
  let best = 0;
  for (const [tile, shown] of strip.frames.entries())
    if (Math.abs(shown - frame) < Math.abs((strip.frames[best] ?? 0) - frame)) best = tile;
  return best;
}
