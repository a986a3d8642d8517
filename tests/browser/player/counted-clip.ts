import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { Picture } from '@/lib/review/media/frame-source';
import { readCounter } from '../../support/media/counter';
import type { ClipName } from './clip-recipes';

interface MadeClipFacts {
  timescale: number;
  shownTicks: number[];
  shownFrames: number[];
  width?: number;
  height?: number;
  rotation?: number;
}

export interface CountedClip {
  url: string;
  table: FrameTable;
  /** The number that is burnt into the frame with this display index. */
  numberOf(index: number): number | undefined;
}

/** One of the clips of `clip-recipes.ts` with the frame table that is true of it. */
export async function countedClip(name: ClipName): Promise<CountedClip> {
  const facts = (await (await fetch(`/test-clips/${name}.json`)).json()) as MadeClipFacts;
  const { width = 320, height = 180, rotation = 0, timescale, shownTicks, shownFrames } = facts;
  const first = shownTicks[0] ?? 0;
  const isQuarter = rotation % 180 !== 0;
  return {
    url: `/test-clips/${name}.mp4`,
    table: {
      version: 1,
      width: isQuarter ? height : width,
      height: isQuarter ? width : height,
      ptsUs: shownTicks.map((tick) => Math.round(((tick - first) * 1e6) / timescale)),
      fileRate: null,
      captureRate: null,
    },
    numberOf: (index) => shownFrames[index],
  };
}

const canvas = document.createElement('canvas');
const context = canvas.getContext('2d', { willReadFrequently: true });

/** The number burnt into a picture, or null when none can be read. */
export function numberIn(picture: Picture, width: number, height: number): number | null {
  canvas.width = width;
  canvas.height = height;
  context?.drawImage(picture, 0, 0, width, height);
  const pixels = context?.getImageData(0, 0, width, height);
  return pixels ? readCounter(pixels) : null;
}
