import { CagepostError } from '../shared/errors';
import { AGREEMENT_MS } from './agreement';
import { refused } from './check-events';
import { MAX_BREAKDOWN_MS, type BreakdownEvent, type Scene } from './event';
import { eventsBetween, indexTimeline, sceneAt, type TimelineIndex } from './scene';
import type { Piece, Recipe, Timeline } from './timeline';

/** What a piece is cut from. `events` may be empty for a spoken remark: then the scene before it stays. */
export interface PieceSource {
  events: readonly BreakdownEvent[];
  durationMs: number;
  /** Whether there is sound; without it, every piece that is not "silent" has. */
  hasVoice?: boolean;
}

const MOST_EVENTS = 60_000;
const lengthOf = (piece: Piece) => piece.toMs - piece.fromMs;

/** Length of the joined breakdown in milliseconds. */
export const durationOf = (recipe: Pick<Recipe, 'pieces'>): number =>
  recipe.pieces.reduce((sum, piece) => sum + lengthOf(piece), 0);

/**
 * Where a moment of the joined breakdown comes from: the piece, its place in the recipe, and milliseconds of its take.
 * A moment between two pieces belongs to the later one, the very end to the last. Null when there is no piece.
 */
export const locate = (
  recipe: Pick<Recipe, 'pieces'>,
  ms: number,
): { piece: Piece; index: number; inTake: number } | null => {
  let startsAt = 0;
  for (const [index, piece] of recipe.pieces.entries()) {
    const isLast = index === recipe.pieces.length - 1;
    if (isLast || ms < startsAt + lengthOf(piece)) {
      const inTake = Math.min(piece.toMs, Math.max(piece.fromMs, piece.fromMs + ms - startsAt));
      return { piece, index, inTake };
    }
    startsAt += lengthOf(piece);
  }
  return null;
};

/** The pieces between two moments of the joined breakdown, the first and last shortened. */
const between = (pieces: readonly Piece[], fromMs: number, toMs: number): Piece[] => {
  let startsAt = 0;
  return pieces.flatMap((piece) => {
    const from = piece.fromMs + Math.max(0, Math.round(fromMs) - startsAt);
    const to = Math.min(piece.toMs, piece.fromMs + Math.round(toMs) - startsAt);
    startsAt += lengthOf(piece);
    return to > from ? [{ ...piece, fromMs: from, toMs: to }] : [];
  });
};

/** "Again from here": what came before `atMs` stays, the rest is left out. At 0 nothing stays: add a piece to it. */
export const cutBack = (recipe: Recipe, atMs: number): Recipe => ({
  ...recipe,
  pieces: between(recipe.pieces, 0, atMs),
});

/** Leaves out what lies between two moments of the joined breakdown. The takes keep it: nothing is deleted. */
export const removeStretch = (recipe: Recipe, fromMs: number, toMs: number): Recipe => ({
  ...recipe,
  pieces: [
    ...between(recipe.pieces, 0, Math.min(fromMs, toMs)),
    ...between(recipe.pieces, Math.max(fromMs, toMs), durationOf(recipe)),
  ],
});

/** Drops a piece in at a moment of the joined breakdown; the piece that is on there is parted around it. */
export const insertPiece = (recipe: Recipe, atMs: number, piece: Piece): Recipe => ({
  ...recipe,
  pieces: [
    ...between(recipe.pieces, 0, atMs),
    piece,
    ...between(recipe.pieces, Math.max(0, atMs), durationOf(recipe)),
  ],
});

/**
 * Joins pieces of takes (keyed by `segmentId`) into one timeline. Each piece begins with a `scene`, folded from its
 * take; what lies outside the pieces is dropped; an event at a piece's very end belongs to the last piece only. Throws
 * a `CagepostError`: "not-found" for a take that is not there, "too-large" past 10 minutes, "invalid" for a piece
 * outside its take or when nothing says what to show.
 */
export const joinPieces = (recipe: Recipe, takes: ReadonlyMap<string, PieceSource>): Timeline => {
  const durationMs = durationOf(recipe);
  if (durationMs === 0) throw refused('Nothing of it was kept.');
  if (durationMs > MAX_BREAKDOWN_MS)
    throw tooLong(
      'A breakdown is at most 10 minutes long. Everything recorded was kept; leave a stretch out.',
    );
  const sources = recipe.pieces.map((piece) => sourceOf(piece, takes));
  const indices = new Map(sources.filter(hasEvents).map((source) => [source, indexTimeline(source)]));

  const events: BreakdownEvent[] = [];
  // A remark without events keeps what was seen before it; at the very beginning, what is seen first.
  let before: Scene | null = null;
  let startsAt = 0;
  for (const [at, piece] of recipe.pieces.entries()) {
    const source = sources[at];
    const index = source && indices.get(source);
    const isLast = at === recipe.pieces.length - 1;
    const shift = startsAt - piece.fromMs;
    if (index) {
      events.push({ t: startsAt, kind: 'scene', scene: sceneAt(index, piece.fromMs) });
      for (const event of eventsBetween(index, piece.fromMs, isLast ? piece.toMs : piece.toMs - 1))
        events.push({ ...event, t: event.t + shift });
      before = sceneAt(index, piece.toMs - 1);
    } else {
      before ??= firstScene(recipe.pieces, sources, indices);
      if (!before) throw refused('Nothing in it says what to show.');
      events.push({ t: startsAt, kind: 'scene', scene: { ...before, isPlaying: false, pointer: null } });
    }
    startsAt += lengthOf(piece);
  }
  if (events.length > MOST_EVENTS)
    throw tooLong('So much was done in this breakdown that it cannot be kept in one. Leave a stretch out.');
  const hasVoice = recipe.pieces.some((piece, at) => sources[at]?.hasVoice ?? piece.kind !== 'silent');
  return { version: 1, clips: recipe.clips, durationMs, hasVoice, events };
};

const sourceOf = (piece: Piece, takes: ReadonlyMap<string, PieceSource>): PieceSource => {
  const source = takes.get(piece.segmentId);
  if (!source)
    throw new CagepostError(
      'not-found',
      'A take of this breakdown is not here yet. What is here was kept; try again when all of it was sent.',
      { segmentId: piece.segmentId },
    );
  if (piece.toMs > source.durationMs + AGREEMENT_MS)
    throw refused('A piece of it is longer than what was recorded.', {
      segmentId: piece.segmentId,
      toMs: piece.toMs,
      durationMs: source.durationMs,
    });
  return source;
};

const hasEvents = (source: PieceSource) => source.events.length > 0;

const firstScene = (
  pieces: readonly Piece[],
  sources: readonly PieceSource[],
  indices: ReadonlyMap<PieceSource, TimelineIndex>,
): Scene | null => {
  const at = sources.findIndex(hasEvents);
  const index = sources[at] && indices.get(sources[at]);
  return index ? sceneAt(index, pieces[at]?.fromMs ?? 0) : null;
};

const tooLong = (sentence: string) => new CagepostError('too-large', sentence);
