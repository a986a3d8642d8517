import type { ClipRecipe } from '../../support/media/make-clip';

type Recipe = Omit<ClipRecipe, 'path'>;

/** Small real files for the player's tests, made once a run. Each frame carries its number. */
export const CLIP_RECIPES = {
  /** As the review rendition is written: a key picture every six frames, nothing reordered. */
  review: { frames: 96, width: 360, height: 640, gop: 6, indexFirst: true },
  ntsc: { frames: 60, rate: { num: 30000, den: 1001 }, gop: 6, indexFirst: true },
  /** As a phone writes it: one key picture a second, reordered frames, index at the end. */
  reordered: { frames: 70, gop: 30, bFrames: 2 },
  /** A phone's variable rate: 30 pictures a second that become 24 and skip one now and then. */
  variable: {
    frames: 60,
    gop: 6,
    indexFirst: true,
    timing: {
      timescale: 90_000,
      ticks: (frame) =>
        frame * 3000 + Math.max(0, frame - 30) * 750 + (frame % 7) * 90 + (frame >= 20 ? 3000 : 0),
    },
  },
  /** Frames 0 to 6 are decoded but lie before the edit. */
  preroll: { frames: 50, gop: 10, edit: { hideFirst: 7 } },
  turned: { frames: 30, width: 320, height: 180, gop: 6, rotation: 90 },
  long: { frames: 300, width: 180, height: 320, gop: 300, indexFirst: true },
  /** Four seconds of a tone as AAC, without a picture: a voice. */
  tone: { frames: 120, sound: 440, soundOnly: true },
  fast: { frames: 120, rate: { num: 240, den: 1 }, gop: 12, indexFirst: true },
} satisfies Record<string, Recipe>;

export type ClipName = keyof typeof CLIP_RECIPES;
