import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { fitsClips, parseRecipe, parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import type { CagepostError } from '@/lib/domain/shared/errors';
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
import { faultOf, refusalOf } from './refusal-of';

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
