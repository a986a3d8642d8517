import { afterEach, describe, expect, test, vi } from 'vitest';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { FrameSource, NetworkState } from '@/lib/review/media/frame-source';
import { openFrameSource, type OpenFrameSourceOptions } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { countedClip, numberIn } from './counted-clip';

const open: { dispose(): void }[] = [];
afterEach(() => {
  for (const one of open.splice(0)) one.dispose();
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

async function openSource(options: OpenFrameSourceOptions): Promise<FrameSource> {
  const source = await openFrameSource(options);
  open.push(source);
  return source;
}

const refusalOf = async (work: Promise<unknown>) => {
  const error: unknown = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(CagepostError);
  return error as CagepostError;
};

describe.each(['webcodecs', 'element'] as const)('%s', (engine) => {
  test('refuses a clip whose size is not that of its frame table', async () => {
    const { url, table } = await countedClip('review');
    const error = await refusalOf(
      openFrameSource({ url, table: { ...table, width: 720, height: 1280 }, engine }),
    );
    expect(error.fault).toBe('conflict');
    expect(error.forPeople).toContain('Nothing is lost');
  });

  test('refuses a clip that is shorter than its frame table', async () => {
    const { url, table } = await countedClip('review');
    const ptsUs = [...table.ptsUs, (table.ptsUs.at(-1) ?? 0) + 5_000_000];
    expect((await refusalOf(openFrameSource({ url, table: { ...table, ptsUs }, engine }))).fault).toBe(
      'conflict',
    );
  });

  test('asks once for a fresh address when the first has run out', async () => {
    const { url, table, numberOf } = await countedClip('review');
    const refreshUrl = vi.fn(() => Promise.resolve(url));
    const source = await openSource({ url: `${url}?key=old`, table, engine, refreshUrl });
    const picture = await source.frameAt(40);
    expect(numberIn(picture, source.width, source.height)).toBe(numberOf(40));
    expect(refreshUrl).toHaveBeenCalledTimes(1);
  });

  test('says so when the fresh address is refused too', async () => {
    const { url, table } = await countedClip('review');
    const old = `${url}?key=old`;
    const refreshUrl = vi.fn(() => Promise.resolve(old));
    const error = await refusalOf(openFrameSource({ url: old, table, engine, refreshUrl }));
    expect(error.fault).toBe('unavailable');
    expect(error.forPeople).toContain('is kept');
    expect(refreshUrl).toHaveBeenCalledTimes(1);
  });

  test('says so when the clip is gone', async () => {
    const { table } = await countedClip('review');
    const error = await refusalOf(openFrameSource({ url: '/test-clips/nothing.mp4', table, engine }));
    expect(error.fault).toBe('not-found');
  });

  test('the latest request wins: the ones before it end as aborted', async () => {
    const { url, table, numberOf } = await countedClip('long');
    const source = await openSource({ url, table, engine });
    const earlier = [260, 15, 140].map((index) =>
      source.frameAt(index).then(
        () => 'shown',
        (error: Error) => error.name,
      ),
    );
    const picture = await source.frameAt(77);
    expect(numberIn(picture, source.width, source.height)).toBe(numberOf(77));
    expect(await Promise.all(earlier)).toEqual(['AbortError', 'AbortError', 'AbortError']);
  });

  test('a request that its caller aborts ends as aborted, and the next one is served', async () => {
    const { url, table, numberOf } = await countedClip('long');
    const source = await openSource({ url, table, engine });
    const stop = new AbortController();
    const given = source.frameAt(290, stop.signal);
    stop.abort();
    await expect(given).rejects.toMatchObject({ name: 'AbortError' });
    expect(numberIn(await source.frameAt(3), source.width, source.height)).toBe(numberOf(3));
  });

  test('closing it ends what is open and gives everything back', async () => {
    const { url, table } = await countedClip('long');
    const source = await openSource({ url, table, engine });
    const frame = source.frameAt(200);
    const copy = source.copyAt(100, 50);
    source.dispose();
    await expect(frame).rejects.toMatchObject({ name: 'AbortError' });
    await expect(copy).rejects.toMatchObject({ name: 'AbortError' });
    await expect(source.frameAt(1)).rejects.toMatchObject({ name: 'AbortError' });
    expect(source.held()).toEqual({ frames: 0, bytes: 0 });
  });
});

test('a timestamp that differs from the frame table is refused', async () => {
  const { url, table } = await countedClip('review');
  const ptsUs = table.ptsUs.map((us, index) => (index === 50 ? us + 12_000 : us));
  const error = await refusalOf(openFrameSource({ url, table: { ...table, ptsUs }, engine: 'webcodecs' }));
  expect(error).toMatchObject({ fault: 'conflict', detail: { frame: 50 } });
});

test('a frame that the clip does not have is refused', async () => {
  const { url, table } = await countedClip('review');
  const source = await openSource({ url, table, engine: 'webcodecs' });
  expect((await refusalOf(source.frameAt(96))).fault).toBe('invalid');
  expect((await refusalOf(source.copyAt(-1, 50))).fault).toBe('invalid');
});

test.each([
  ['has no WebCodecs', () => vi.stubGlobal('VideoDecoder', undefined)],
  [
    'throws when asked whether it can decode',
    () =>
      vi.stubGlobal('VideoDecoder', {
        isConfigSupported: () => {
          throw new TypeError('no');
        },
      }),
  ],
])('a browser that %s gets the element', async (_, breakIt) => {
  const { url, table, numberOf } = await countedClip('review');
  breakIt();
  const source = await openSource({ url, table });
  expect(source.engine).toBe('element');
  expect(numberIn(await source.frameAt(9), source.width, source.height)).toBe(numberOf(9));
});

test.each([
  ['software', 'I420'],
  ['hardware', 'NV12'],
] as const)(
  'by %s every decoded frame is closed, every bitmap too, and the cache keeps to its bytes',
  async (_, format) => {
    vi.spyOn(VideoFrame.prototype, 'format', 'get').mockReturnValue(format);
    const opened = new Set<ImageBitmap>();
    const make = createImageBitmap;
    vi.stubGlobal('createImageBitmap', async (...given: Parameters<typeof make>) => {
      const bitmap = await make(...given);
      const close = bitmap.close.bind(bitmap);
      opened.add(bitmap);
      bitmap.close = () => {
        opened.delete(bitmap);
        close();
      };
      return bitmap;
    });
    let openFrames = 0;
    let decoded = 0;
    const Decoder = VideoDecoder;
    class CountingDecoder extends Decoder {
      constructor({ output, error }: VideoDecoderInit) {
        super({
          error,
          output: (frame) => {
            openFrames++;
            decoded++;
            const close = frame.close.bind(frame);
            let isOpen = true;
            frame.close = () => {
              if (isOpen) openFrames--;
              isOpen = false;
              close();
            };
            output(frame);
          },
        });
      }
    }
    vi.stubGlobal('VideoDecoder', CountingDecoder);

    const { url, table, numberOf } = await countedClip('review');
    const budgetBytes = 12 * table.width * table.height * 4;
    const source = await openSource({ url, table, engine: 'webcodecs', budgetBytes });
    for (const index of [0, 40, 80, 12, 95, 33, 34, 35, 36, 7]) {
      const picture = await source.frameAt(index);
      expect(numberIn(picture, source.width, source.height)).toBe(numberOf(index));
      source.prefetch(index, index % 2 ? 1 : -1);
      expect(source.held().bytes).toBeLessThanOrEqual(budgetBytes);
      expect(opened.size).toBeLessThanOrEqual(source.held().frames + 3);
    }
    // Software frames go into canvases that are used again; only hardware frames become bitmaps.
    expect(opened.size > 0).toBe(format === 'NV12');
    expect(decoded).toBeGreaterThan(20);
    source.dispose();
    await vi.waitFor(() => expect([opened.size, openFrames]).toEqual([0, 0]));
  },
);

describe('a lost connection', () => {
  test('is told, what is loaded stays, and it goes on by itself when the connection is back', async () => {
    const { url, table, numberOf } = await countedClip('review');
    const states: NetworkState[] = [];
    let isDown = true;
    const really = fetch;
    vi.stubGlobal('fetch', (...given: Parameters<typeof fetch>) =>
      isDown ? Promise.reject(new TypeError('Failed to fetch')) : really(...given),
    );
    const opening = openSource({ url, table, engine: 'webcodecs', onNetwork: (state) => states.push(state) });
    await vi.waitFor(() => expect(states).toEqual(['waiting']));
    isDown = false;
    dispatchEvent(new Event('online'));
    const source = await opening;
    expect(states).toEqual(['waiting', 'ok']);
    expect(numberIn(await source.frameAt(60), source.width, source.height)).toBe(numberOf(60));
  });

  test('opening can be given up meanwhile', async () => {
    const { url, table } = await countedClip('review');
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('Failed to fetch')));
    const stop = new AbortController();
    const told = vi.fn();
    const opening = openFrameSource({
      url,
      table,
      engine: 'webcodecs',
      signal: stop.signal,
      onNetwork: told,
    });
    await vi.waitFor(() => expect(told).toHaveBeenCalledWith('waiting'));
    stop.abort();
    await expect(opening).rejects.toMatchObject({ name: 'AbortError' });
  });
});

test('a decoder that is taken away is replaced without anybody noticing', async () => {
  const made: { fail: () => void }[] = [];
  const Decoder = VideoDecoder;
  class FragileDecoder extends Decoder {
    constructor(init: VideoDecoderInit) {
      super(init);
      made.push({
        fail: () => {
          this.close();
          init.error(new DOMException('Codec reclaimed due to inactivity.', 'QuotaExceededError'));
        },
      });
    }
  }
  vi.stubGlobal('VideoDecoder', FragileDecoder);
  const { url, table, numberOf } = await countedClip('long');
  const source = await openSource({ url, table, engine: 'webcodecs' });
  await source.frameAt(10);
  made[0]?.fail();
  expect(numberIn(await source.frameAt(222), source.width, source.height)).toBe(numberOf(222));
  expect(made).toHaveLength(2);
});

test('a frame that cannot be decoded is told in the snapshot, keeps the last true picture, and can be tried again', async () => {
  const { url, table } = await countedClip('long');
  const source = await openSource({ url, table, engine: 'webcodecs' });
  const player = new Player(source, table);
  open.push(player);
  player.onPicture(() => undefined);
  await vi.waitFor(() => expect(player.getSnapshot().shownFrame).toBe(0));

  const decode = vi.spyOn(VideoDecoder.prototype, 'decode').mockImplementation(() => {
    throw new DOMException('broken', 'EncodingError');
  });
  player.goTo(250);
  await vi.waitFor(() => expect(player.getSnapshot().fault?.fault).toBe('unsupported'));
  expect(player.getSnapshot()).toMatchObject({ mode: 'paused', shownFrame: 0, wantedFrame: 250 });
  decode.mockRestore();
  player.retry();
  await vi.waitFor(() => expect(player.getSnapshot()).toMatchObject({ shownFrame: 250, fault: null }), {
    timeout: 5_000,
  });
});
