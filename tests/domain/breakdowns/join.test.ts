import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import {
  cutBack,
  durationOf,
  insertPiece,
  joinPieces,
  locate,
  removeStretch,
  type PieceSource,
} from '@/lib/domain/breakdowns/join';
import { parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Piece, Recipe } from '@/lib/domain/breakdowns/timeline';
import { CagepostError } from '@/lib/domain/shared/errors';
import { buildPiece, buildRecipe, buildScene, buildTimeline, CLIP, someEvents } from './build-timeline';

const TAKE_MS = 6000;
const SEGMENTS = ['a', 'b', 'c'].map((n) => `018f5e2a-0000-7000-8000-00000000000${n}`);

const aPiece: fc.Arbitrary<Piece> = fc
  .tuple(fc.constantFrom(...SEGMENTS), fc.nat(TAKE_MS), fc.nat(TAKE_MS))
  .filter(([, a, b]) => a !== b)
  .map(([segmentId, a, b]) => buildPiece({ segmentId, fromMs: Math.min(a, b), toMs: Math.max(a, b) }));
const aRecipe = fc.array(aPiece, { minLength: 1, maxLength: 6 }).map(buildRecipe);
const someTakes = fc
  .tuple(...SEGMENTS.map(() => someEvents(TAKE_MS, 60)))
  .map((all) => new Map(all.map((events, n) => [SEGMENTS[n]!, { events, durationMs: TAKE_MS }])));

const handFold = (
  takes: ReadonlyMap<string, PieceSource>,
  { piece, inTake }: NonNullable<ReturnType<typeof locate>>,
) => sceneAt(indexTimeline(takes.get(piece.segmentId)!), inTake);

describe('joinPieces', () => {
  it('shows at every moment what the piece’s own take shows there', () => {
    fc.assert(
      fc.property(
        aRecipe,
        someTakes,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true })),
        (recipe, takes, places) => {
          const timeline = joinPieces(recipe, takes);
          const index = indexTimeline(timeline);
          const edges = recipe.pieces.map((_, n) => durationOf({ pieces: recipe.pieces.slice(0, n) }));
          const inside = places.map((place) => Math.floor(place * timeline.durationMs));
          for (const ms of [...edges, ...inside, timeline.durationMs])
            expect(sceneAt(index, ms)).toEqual(handFold(takes, locate(recipe, ms)!));
        },
      ),
    );
  });

  it('makes a timeline that can be stored', () => {
    fc.assert(
      fc.property(aRecipe, someTakes, (recipe, takes) => {
        const timeline = joinPieces({ ...recipe, clips: buildTimeline().clips }, takes);
        expect(parseTimeline(JSON.parse(JSON.stringify(timeline)))).toEqual(timeline);
      }),
      { numRuns: 40 },
    );
  });

  const drawn: BreakdownEvent[] = [
    { t: 0, kind: 'scene', scene: buildScene({ pointer: { x: 0.5, y: 0.5 }, isPlaying: true }) },
    { t: 400, kind: 'frame', clipId: CLIP, frame: 9 },
  ];
  const takes = new Map<string, PieceSource>([
    [SEGMENTS[0]!, { events: drawn, durationMs: 1000 }],
    [SEGMENTS[1]!, { events: [], durationMs: 2000, hasVoice: true }],
  ]);
  const take = buildPiece({ segmentId: SEGMENTS[0], toMs: 1000 });
  const remark = buildPiece({ segmentId: SEGMENTS[1], kind: 'remark', toMs: 2000 });

  it('keeps the picture still while a remark without events is heard', () => {
    const index = indexTimeline(joinPieces(buildRecipe([take, remark]), takes));
    expect(sceneAt(index, 2500)).toEqual(buildScene({ frame: 9 }));
    const first = indexTimeline(joinPieces(buildRecipe([remark, { ...take, fromMs: 500 }]), takes));
    expect(sceneAt(first, 0)).toEqual(buildScene({ frame: 9 }));
  });

  it('has a voice when a piece has', () => {
    expect(joinPieces(buildRecipe([take]), takes).hasVoice).toBe(true);
    expect(joinPieces(buildRecipe([{ ...take, kind: 'silent' }]), takes).hasVoice).toBe(false);
    expect(joinPieces(buildRecipe([{ ...take, kind: 'silent' }, remark]), takes).hasVoice).toBe(true);
  });

  it.each<[string, Recipe, string]>([
    ['a take that is not here', buildRecipe([buildPiece({ segmentId: SEGMENTS[2] })]), 'not-found'],
    ['a piece longer than its take', buildRecipe([{ ...take, toMs: 9000 }]), 'invalid'],
    ['nothing to show', buildRecipe([remark]), 'invalid'],
    ['nothing at all', buildRecipe([]), 'invalid'],
    ['more than 10 minutes', buildRecipe(Array(601).fill(take)), 'too-large'],
  ])('refuses %s', (_, recipe, fault) => {
    const attempt = () => joinPieces(recipe, takes);
    expect(attempt).toThrow(CagepostError);
    expect(attempt).toThrow(expect.objectContaining({ fault }));
  });

  it('refuses more steps than a breakdown holds', () => {
    const busy = Array.from({ length: 20_000 }, (_, n): BreakdownEvent => ({
      t: 1 + (n % 900),
      kind: 'chalk',
      isShown: true,
    }));
    const events = [drawn[0]!, ...busy.sort((a, b) => a.t - b.t)];
    const full = new Map([[SEGMENTS[0]!, { events, durationMs: 1000 }]]);
    expect(() => joinPieces(buildRecipe(Array(4).fill(take)), full)).toThrow(
      expect.objectContaining({ fault: 'too-large' }),
    );
  });
});

/** Each millisecond of a recipe as "take:millisecond", so that edits can be compared with edits of a list. */
const millisecondsOf = (recipe: Recipe) =>
  recipe.pieces.flatMap((piece) =>
    Array.from({ length: piece.toMs - piece.fromMs }, (_, n) => `${piece.segmentId}:${piece.fromMs + n}`),
  );

describe('editing a recipe is editing its list of milliseconds', () => {
  const short = fc
    .array(
      fc
        .tuple(fc.constantFrom(...SEGMENTS), fc.nat(60), fc.integer({ min: 1, max: 60 }))
        .map(([segmentId, fromMs, length]) => buildPiece({ segmentId, fromMs, toMs: fromMs + length })),
      { minLength: 1, maxLength: 5 },
    )
    .map(buildRecipe);
  const moment = fc.integer({ min: -5, max: 320 });

  it('again from here', () => {
    fc.assert(
      fc.property(short, moment, (recipe, at) => {
        expect(millisecondsOf(cutBack(recipe, at))).toEqual(millisecondsOf(recipe).slice(0, Math.max(0, at)));
      }),
    );
  });

  it('a stretch left out', () => {
    fc.assert(
      fc.property(short, moment, moment, (recipe, a, b) => {
        const [from, to] = [Math.min(a, b), Math.max(a, b)].map((ms) => Math.max(0, ms)) as [number, number];
        const left = millisecondsOf(recipe).filter((_, ms) => ms < from || ms >= to);
        expect(millisecondsOf(removeStretch(recipe, a, b))).toEqual(left);
      }),
    );
  });

  it('a piece dropped in', () => {
    fc.assert(
      fc.property(short, moment, (recipe, at) => {
        const piece = buildPiece({ fromMs: 7, toMs: 12 });
        const whole = millisecondsOf(recipe);
        const place = Math.min(Math.max(0, at), whole.length);
        const expected = [
          ...whole.slice(0, place),
          ...millisecondsOf(buildRecipe([piece])),
          ...whole.slice(place),
        ];
        expect(millisecondsOf(insertPiece(recipe, at, piece))).toEqual(expected);
      }),
    );
  });

  it('every piece that is left has a length, and the sum is the duration', () => {
    fc.assert(
      fc.property(short, moment, moment, (recipe, a, b) => {
        const edited = removeStretch(recipe, a, b);
        for (const piece of edited.pieces) expect(piece.toMs).toBeGreaterThan(piece.fromMs);
        expect(durationOf(edited)).toBe(millisecondsOf(edited).length);
      }),
    );
  });

  it('a moment is found in its piece; outside, at the nearest end', () => {
    fc.assert(
      fc.property(short, fc.nat(320), (recipe, ms) => {
        const all = millisecondsOf(recipe);
        const place = locate(recipe, ms)!;
        if (ms < all.length) expect(`${place.piece.segmentId}:${place.inTake}`).toBe(all[ms]);
        else expect(place.inTake).toBe(recipe.pieces.at(-1)!.toMs);
      }),
    );
    expect(locate(buildRecipe([]), 0)).toBeNull();
  });
});
