import { deflateRawSync, inflateRawSync } from 'node:zlib';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { joinParts, readPart, writePart } from '@/lib/domain/breakdowns/parse-part';
import { partPrint } from '@/lib/domain/breakdowns/part-print';
import type { PartHead } from '@/lib/domain/breakdowns/timeline';
import type { CagepostError } from '@/lib/domain/shared/errors';
import { buildMark, buildScene, CLIP, someEvents } from './build-timeline';
import { faultOf, refusalOf } from './refusal-of';

const anyJson = fc.jsonValue({ maxDepth: 4 });

/** A part as version 1 of the recorder wrote it, but for its length. */
const OLD_LINE =
  '{"version":1,"segmentId":"018f5e2a-0000-7000-8000-0000000005e6","number":0,"voiceType":"audio/webm;codecs=opus","fromMs":0,"toMs":10052,"events":[{"t":0,"kind":"scene","scene":{"clipId":"0197a000-0000-7000-8000-00000000c11b","frame":0,"speed":1,"isPlaying":false,"look":{"x":0.5,"y":0.5,"zoom":1},"marks":[],"isChalkShown":true,"pointer":null,"checkpoint":null,"itemId":null,"beside":null,"caption":""}},{"t":2580,"kind":"mark","mark":{"version":1,"id":"5a19519c-e281-4977-ae70-08eed508ac1b","clipId":"0197a000-0000-7000-8000-00000000c11b","frame":22,"span":1,"chalk":"white","itemId":null,"hidden":false,"kind":"freehand","points":[{"x":0.64,"y":0.61}]}},{"t":2641,"kind":"grow","id":"5a19519c-e281-4977-ae70-08eed508ac1b","points":[{"x":0.615,"y":0.664}]},{"t":5390,"kind":"frame","clipId":"0197a000-0000-7000-8000-00000000c11b","frame":27}],"voiceBytes":4}';

const buildHead = (overrides: Partial<PartHead> = {}): PartHead => ({
  version: 2,
  segmentId: '018f5e2a-0000-7000-8000-0000000005e6',
  number: 0,
  voiceType: 'audio/webm;codecs=opus',
  voiceBytes: 0,
  fromMs: 0,
  toMs: 10_000,
  events: [{ t: 0, kind: 'scene', scene: buildScene() }],
  ...overrides,
});

describe('the file of a part', () => {
  it('gives back what was written, whatever bytes the voice has', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), someEvents(9000, 12), (voice, events) => {
        const read = readPart(writePart(buildHead({ events }), voice));
        expect(read.head).toEqual(buildHead({ events, voiceBytes: voice.length }));
        expect([...read.voice]).toEqual([...voice]);
      }),
    );
  });

  // RFC 1951 by Node's zlib, which is another program than the one that packs.
  it('is one line of JSON, a line feed, the events by raw DEFLATE, and the voice', () => {
    const { events, ...rest } = buildHead({ voiceBytes: 3 });
    const bytes = writePart(buildHead(), Uint8Array.of(10, 1, 10));
    const start = bytes.indexOf(10) + 1;
    const { eventsBytes, ...head } = JSON.parse(new TextDecoder().decode(bytes.subarray(0, start)));
    expect(head).toEqual(rest);
    const packed = bytes.subarray(start, start + eventsBytes);
    expect(JSON.parse(inflateRawSync(packed).toString())).toEqual(events);
    expect([...bytes.subarray(start + eventsBytes)]).toEqual([10, 1, 10]);
  });

  it('is the same bytes each time, so that a part which is sent again is known again', () => {
    fc.assert(
      fc.property(someEvents(9000, 12), (events) => {
        const [one, other] = [events, structuredClone(events)].map((list) =>
          writePart(buildHead({ events: list }), Uint8Array.of(1)),
        );
        expect(one).toEqual(other);
      }),
    );
  });

  it('costs a minute of drawing and playing less than 12 kilobytes beside the voice', () => {
    const id = buildMark('freehand').id;
    const events = (number: number): BreakdownEvent[] => [
      ...(number === 0 ? buildHead().events : []),
      ...Array.from({ length: 200 }, (_, n): BreakdownEvent => {
        const t = number * 10_000 + n * 50;
        if (n % 2 === 0) return { t, kind: 'frame', clipId: CLIP, frame: n };
        const points = [{ x: Math.round(500 + 200 * Math.sin(n / 9)) / 1000, y: (n * 37 + number) % 1 }];
        return { t, kind: 'grow', id, points };
      }),
    ];
    const sizes = [0, 1, 2, 3, 4, 5].map(
      (number) => writePart(buildHead({ number, events: events(number) }), new Uint8Array()).byteLength,
    );
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(12_000);
  });

  it('is read as version 1 wrote it, the events in its line', () => {
    const voice = Uint8Array.of(26, 69, 10, 163);
    const bytes = new Uint8Array([...new TextEncoder().encode(`${OLD_LINE}\n`), ...voice]);
    const read = readPart(bytes);
    expect(read.head).toMatchObject({ version: 2, number: 0, voiceBytes: 4, toMs: 10_052 });
    expect(read.head.events.map(({ t, kind }) => [t, kind])).toEqual([
      [0, 'scene'],
      [2580, 'mark'],
      [2641, 'grow'],
      [5390, 'frame'],
    ]);
    expect([...read.voice]).toEqual([...voice]);
    // What is joined of an old and a new part is one take.
    const next = readPart(
      writePart(buildHead({ number: 1, fromMs: 10_052, toMs: 12_000, events: [] }), voice),
    );
    expect(joinParts([read.head, next.head])).toMatchObject({ durationMs: 12_000, missing: [] });
  });

  it('has the print of what it says, whichever version wrote it and in whatever order', async () => {
    const voice = Uint8Array.of(26, 69, 10, 163);
    const old = new Uint8Array([...new TextEncoder().encode(`${OLD_LINE}\n`), ...voice]);
    const { version: _, voiceBytes: __, ...kept } = JSON.parse(OLD_LINE) as PartHead;
    const anew = writePart({ ...kept, version: 2 }, voice);
    expect(anew.byteLength).not.toBe(old.byteLength);
    const print = await partPrint(old);
    expect(print).toMatch(/^[0-9a-f]{64}$/);
    expect(await partPrint(anew)).toBe(print);
    const turned = Object.fromEntries(Object.entries(kept).reverse()) as typeof kept;
    expect(await partPrint(writePart({ ...turned, version: 2 }, voice))).toBe(print);
    const others = [
      writePart({ ...kept, version: 2 }, voice.slice(1)),
      writePart({ ...kept, version: 2, number: 1 }, voice),
      writePart({ ...kept, version: 2, toMs: 10_053 }, voice),
      writePart({ ...kept, version: 2, events: kept.events.slice(0, -1) }, voice),
      writePart({ ...kept, version: 2, segmentId: CLIP }, voice),
    ];
    for (const other of others) expect(await partPrint(other)).not.toBe(print);
    await expect(partPrint(voice)).rejects.toMatchObject({ fault: 'invalid' });
  });

  describe('with events that are not what they seem', () => {
    const withPacked = (packed: Uint8Array, eventsBytes: unknown = packed.byteLength) => {
      const { events: _, ...head } = buildHead();
      const line = new TextEncoder().encode(`${JSON.stringify({ ...head, eventsBytes })}\n`);
      return new Uint8Array([...line, ...packed]);
    };
    const packed = (text: string) => deflateRawSync(Buffer.from(text));
    const good = packed(JSON.stringify(buildHead().events));

    it('is read when nothing is wrong with them', () => {
      expect(faultOf(() => readPart(withPacked(good)))).toBe('accepted');
    });

    it('stops at 4 MiB of a bomb of 250 MiB, with a sentence', () => {
      const bomb = withPacked(deflateRawSync(Buffer.alloc(250 * 2 ** 20, 32)));
      expect(bomb.byteLength).toBeLessThan(300_000);
      const refusal = refusalOf(() => readPart(bomb)) as CagepostError;
      expect(refusal.fault).toBe('invalid');
      expect(refusal.forPeople).toMatch(/kept where it was recorded/);
      // Not because of what came out at the end: unpacking itself stopped.
      expect(refusal.cause).toBeInstanceOf(RangeError);
    });

    it.each([
      ['bytes that are not packed', withPacked(new Uint8Array(40).fill(255))],
      ['packed bytes that end early', withPacked(good.subarray(0, good.length - 4))],
      ['more bytes said than there are', withPacked(good, good.length + 1)],
      ['fewer than none', withPacked(good, -1)],
      ['a part of a byte', withPacked(good, 1.5)],
      ['no number of bytes', withPacked(good, null)],
      ['letters that are none', withPacked(deflateRawSync(Uint8Array.of(0xff, 0xfe)))],
      ['no list', withPacked(packed('{"t":0}'))],
      ['a step of an unknown kind', withPacked(packed('[{"t":0,"kind":"dance"}]'))],
    ])('is refused: %s', (_, bytes) => {
      expect(faultOf(() => readPart(bytes))).toBe('invalid');
    });

    it('tells a newer version apart from a broken one', () => {
      const line = JSON.stringify({ ...buildHead(), version: 3 });
      expect(faultOf(() => readPart(new TextEncoder().encode(`${line}\n`)))).toBe('conflict');
    });
  });

  const whole = writePart(buildHead(), new Uint8Array(50));
  it.each([
    ['nothing', new Uint8Array()],
    ['a file that is none of ours', new Uint8Array(5000).fill(7)],
    ['one that was cut short in the voice', whole.subarray(0, whole.length - 1)],
    ['one that was cut short in the head', whole.subarray(0, 80)],
    ['one with too much in it', new Uint8Array([...whole, 0])],
    ['letters that are none', Uint8Array.of(0xff, 0xfe, 10)],
    [
      'a first part without its beginning',
      writePart(buildHead({ events: [{ t: 0, kind: 'chalk', isShown: true }] }), new Uint8Array()),
    ],
    [
      'events out of order',
      writePart(
        buildHead({
          number: 1,
          events: [5, 4].map((t) => ({ t, kind: 'chalk', isShown: true })),
        }),
        new Uint8Array(),
      ),
    ],
    ['an end before the beginning', writePart(buildHead({ fromMs: 9, toMs: 8 }), new Uint8Array())],
  ])('refuses %s', (_, bytes) => {
    expect(faultOf(() => readPart(bytes))).toBe('invalid');
  });

  it('lets nothing out but a part or a refusal, whatever bytes come', () => {
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 200 }),
      anyJson.map((json) => new TextEncoder().encode(`${JSON.stringify(json)}\nvoice`)),
      fc.tuple(fc.nat(whole.length - 1), fc.nat(255)).map(([at, byte]) => whole.with(at, byte)),
    );
    fc.assert(
      fc.property(bytes, (raw) => {
        expect(['accepted', 'invalid', 'conflict']).toContain(faultOf(() => readPart(raw)));
      }),
      { numRuns: 400 },
    );
  });
});

describe('the parts of one take', () => {
  const parts = [0, 1, 2].map((number) =>
    buildHead({
      number,
      fromMs: number * 1000,
      toMs: (number + 1) * 1000,
      events: [
        number === 0
          ? { t: 0, kind: 'scene', scene: buildScene() }
          : { t: number * 1000 + 5, kind: 'chalk', isShown: false },
      ],
    }),
  ) as [PartHead, PartHead, PartHead];

  it('are put together in order of number, however they came, a double once', () => {
    const take = joinParts([parts[2], parts[0], parts[1], parts[2]]);
    expect(take.events.map((event) => event.t)).toEqual([0, 1005, 2005]);
    expect(take).toMatchObject({ durationMs: 3000, missing: [] });
  });

  it('stop before the first that is missing, and say which', () => {
    expect(joinParts([parts[0], parts[2]])).toMatchObject({ durationMs: 1000, missing: [1] });
  });

  it.each([
    ['without any', []],
    ['without the first', [parts[1]]],
  ])('%s are refused', (_, heads) => {
    expect(faultOf(() => joinParts(heads))).toBe('invalid');
  });
});
