import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { joinParts, readPart, writePart } from '@/lib/domain/breakdowns/parse-part';
import { fitsClips, parseRecipe, parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import type { PartHead } from '@/lib/domain/breakdowns/timeline';
import { CagepostError } from '@/lib/domain/shared/errors';
import {
  buildMark,
  buildPiece,
  buildRecipe,
  buildScene,
  buildTimeline,
  CLIP,
  FRAMES,
  OTHER_CLIP,
  someEvents,
} from './build-timeline';

const refusalOf = (attempt: () => unknown): CagepostError | 'accepted' => {
  try {
    attempt();
  } catch (error) {
    if (error instanceof CagepostError) return error;
    throw error;
  }
  return 'accepted';
};
const faultOf = (attempt: () => unknown) => {
  const refusal = refusalOf(attempt);
  return refusal === 'accepted' ? refusal : refusal.fault;
};
const asStored = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
const anyJson = fc.jsonValue({ maxDepth: 4 });

describe('parseTimeline', () => {
  it('gives back every timeline it is given, after a trip through JSON', () => {
    fc.assert(
      fc.property(someEvents(60_000, 60), (events) => {
        const timeline = buildTimeline([], { events });
        expect(parseTimeline(asStored(timeline))).toEqual(timeline);
      }),
    );
  });

  const frame = (t: number, overrides: object = {}) =>
    ({ t, kind: 'frame', clipId: CLIP, frame: 3, ...overrides }) as BreakdownEvent;

  it.each([
    ['steps out of order', buildTimeline([frame(500), frame(499)]), 'out of order'],
    [
      'a kind that it does not know',
      { ...buildTimeline(), events: [{ t: 0, kind: 'dance' }] },
      'a kind that this page does not know',
    ],
    ['a first step that is no scene', { ...buildTimeline(), events: [frame(0)] }, 'beginning is missing'],
    [
      'a beginning after 0',
      { ...buildTimeline(), events: [{ t: 3, kind: 'scene', scene: buildScene() }] },
      'beginning is missing',
    ],
    ['a frame past the last', buildTimeline([frame(5, { frame: FRAMES })]), 'does not have'],
    [
      'a frame past the last in a scene',
      buildTimeline([{ t: 5, kind: 'scene', scene: buildScene({ frame: FRAMES }) }]),
      'does not have',
    ],
    [
      'a frame past the last beside it',
      buildTimeline([{ t: 5, kind: 'beside', beside: { clipId: CLIP, frame: FRAMES, opacity: 0 } }]),
      'does not have',
    ],
    ['a clip that it does not name', buildTimeline([frame(5, { clipId: buildMark('line').id })]), 'not name'],
    [
      'one clip twice',
      buildTimeline([], { clips: [CLIP, CLIP].map((clipId) => ({ clipId, frameCount: FRAMES })) }),
      'twice',
    ],
    ['a length of 0 seconds', buildTimeline([], { durationMs: 0 }), '0 seconds'],
    ['a step after the end', buildTimeline([frame(700)], { durationMs: 600 }), 'after its end'],
    ['no steps', buildTimeline([], { events: [] }), 'cannot be read'],
    ['a step between milliseconds', buildTimeline([frame(1.5)]), 'cannot be read'],
    ['more than 10 minutes', buildTimeline([], { durationMs: 600_001 }), 'cannot be read'],
    [
      'a broken mark',
      buildTimeline([{ t: 1, kind: 'mark', mark: { ...buildMark('line'), chalk: 'red' as never } }]),
      'mark cannot be read',
    ],
    [
      'two marks with one id in a scene',
      buildTimeline([
        { t: 1, kind: 'scene', scene: buildScene({ marks: Array(2).fill(buildMark('line')) }) },
      ]),
      'marks cannot be read',
    ],
  ])('refuses %s, and says so', (_, raw, words) => {
    const refusal = refusalOf(() => parseTimeline(raw)) as CagepostError;
    expect(refusal.fault).toBe('invalid');
    expect(refusal.forPeople).toContain(words);
    expect(refusal.forPeople).toMatch(/nothing was changed/i);
  });

  it('tells a newer version, of the whole or of a mark, apart from a broken one', () => {
    expect(faultOf(() => parseTimeline({ ...buildTimeline(), version: 2 }))).toBe('conflict');
    const mark = { ...buildMark('line'), version: 2 };
    expect(faultOf(() => parseTimeline(buildTimeline([{ t: 1, kind: 'mark', mark: mark as never }])))).toBe(
      'conflict',
    );
  });

  it('drops fields that it does not know', () => {
    const raw = asStored({ ...buildTimeline([frame(9, { hue: 3 })]), theme: 'night' });
    expect(parseTimeline(raw)).toEqual(buildTimeline([frame(9)]));
  });

  it('lets nothing out but a timeline or a refusal, whatever it is given', () => {
    const known = ['accepted', 'invalid', 'conflict'];
    const mangled = fc
      .tuple(someEvents(500, 6), fc.nat(6), fc.string(), anyJson)
      .map(([events, at, key, junk]) => {
        const raw = asStored(buildTimeline([], { events, durationMs: 500 })) as Record<string, unknown>;
        const list = raw.events as Record<string, unknown>[];
        const keys = Object.keys(list[at % list.length]!);
        list[at % list.length]![keys[key.length % keys.length]!] = junk;
        return raw;
      });
    fc.assert(
      fc.property(fc.oneof(anyJson, fc.anything(), mangled), (raw) => {
        expect(known).toContain(faultOf(() => parseTimeline(raw)));
        expect(known).toContain(faultOf(() => parseRecipe(raw)));
      }),
      { numRuns: 300 },
    );
  });

  it('reads a recipe, and refuses one without pieces or with one that ends before it begins', () => {
    expect(parseRecipe(asStored(buildRecipe()))).toEqual(buildRecipe());
    expect(faultOf(() => parseRecipe(buildRecipe([])))).toBe('invalid');
    expect(faultOf(() => parseRecipe(buildRecipe([buildPiece({ fromMs: 5, toMs: 5 })])))).toBe('invalid');
    expect(faultOf(() => parseRecipe({ ...buildRecipe(), version: 2 }))).toBe('conflict');
  });
});

describe('fitsClips', () => {
  const clips = [
    { id: CLIP, frameCount: FRAMES },
    { id: OTHER_CLIP, frameCount: FRAMES },
  ];

  it('says nothing when they fit', () => {
    expect(fitsClips(buildTimeline(), clips)).toEqual([]);
  });

  it('names a clip that was removed, one that was replaced, and clips of something else', () => {
    expect(fitsClips(buildTimeline(), clips.slice(0, 1))).toMatchObject([
      { clipId: OTHER_CLIP, why: 'gone' },
    ]);
    expect(fitsClips(buildTimeline(), [{ id: CLIP, frameCount: 12 }, clips[1]!])).toMatchObject([
      { clipId: CLIP, why: 'replaced', sentence: expect.stringContaining('replaced') },
    ]);
    expect(fitsClips(buildTimeline(), [{ id: buildMark('line').id, frameCount: FRAMES }])).toMatchObject([
      { why: 'other' },
      { why: 'other' },
    ]);
    expect(fitsClips(buildTimeline(), [])).toMatchObject([{ why: 'gone' }, { why: 'gone' }]);
  });
});

const buildHead = (overrides: Partial<PartHead> = {}): PartHead => ({
  version: 1,
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

  it('is one line of JSON, a line feed, and the voice', () => {
    const bytes = writePart(buildHead(), Uint8Array.of(10, 1, 10));
    const text = new TextDecoder().decode(bytes);
    expect(JSON.parse(text.slice(0, text.indexOf('\n')))).toEqual(buildHead({ voiceBytes: 3 }));
    expect(text.slice(text.indexOf('\n') + 1)).toBe('\n\u0001\n');
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
