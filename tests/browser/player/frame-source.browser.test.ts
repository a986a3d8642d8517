import { afterEach, describe, expect, test } from 'vitest';
import type { FrameSource } from '@/lib/review/media/frame-source';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import type { ClipName } from './clip-recipes';
import { countedClip, numberIn, type CountedClip } from './counted-clip';

const open: FrameSource[] = [];
afterEach(() => {
  for (const source of open.splice(0)) source.dispose();
});

async function opened(name: ClipName, engine: FrameSource['engine']) {
  const clip = await countedClip(name);
  const source = await openFrameSource({ url: clip.url, table: clip.table, engine });
  open.push(source);
  return { clip, source };
}

/** Indices of frames whose picture carries another number than it should. */
async function wrongOnes(
  source: FrameSource,
  clip: CountedClip,
  indices: Iterable<number>,
): Promise<number[]> {
  const wrong: number[] = [];
  for (const index of indices) {
    const picture = await source.frameAt(index);
    if (numberIn(picture, source.width, source.height) !== clip.numberOf(index)) wrong.push(index);
  }
  return wrong;
}

const range = (from: number, to: number) =>
  Array.from({ length: Math.abs(to - from) + 1 }, (_, at) => (to >= from ? from + at : from - at));
/** Fixed jumps all over a clip: a linear congruential walk. */
const jumps = (frameCount: number, many: number) => {
  let at = 7;
  return Array.from({ length: many }, () => (at = (at * 29 + 17) % frameCount));
};

describe.each(['webcodecs', 'element'] as const)('exact frames by %s', (engine) => {
  test.each(['review', 'ntsc', 'reordered', 'variable', 'preroll', 'turned', 'fast'] as const)(
    'forth, back and at random: %s',
    async (name) => {
      const { clip, source } = await opened(name, engine);
      expect(source.engine).toBe(engine);
      const last = source.frameCount - 1;
      expect(await wrongOnes(source, clip, range(0, last))).toEqual([]);
      expect(await wrongOnes(source, clip, range(last, 0))).toEqual([]);
      expect(await wrongOnes(source, clip, jumps(source.frameCount, 40))).toEqual([]);
    },
  );
});

test('a frame asked for in the very moment the work ends is not forgotten', async () => {
  const { clip, source } = await opened('review', 'webcodecs');
  for (let turns = 0; turns < 14; turns++) {
    const near = turns % 2 === 0 ? 5 : 70;
    await source.copyAt(near, 40).then((copy) => copy.close());
    for (let turn = 0; turn < turns; turn++) await Promise.resolve();
    expect(await wrongOnes(source, clip, [near === 5 ? 80 : 20])).toEqual([]);
  }
});
