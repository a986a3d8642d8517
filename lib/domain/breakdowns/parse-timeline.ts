import { versionedParser } from '../marks/versioned';
import { checkBegin, checkOrder, liftEvents, refused } from './check-events';
import { recipeSchema, timelineSchema, type Recipe, type Timeline } from './timeline';

const parseOuter = versionedParser<Timeline>({
  what: 'breakdown',
  version: 1,
  upgrades: {},
  schema: timelineSchema,
});

const parseRecipeOuter = versionedParser<Recipe>({
  what: 'list of takes',
  version: 1,
  upgrades: {},
  schema: recipeSchema,
});

/**
 * Reads a timeline that was stored or sent: lifts older versions, of its marks too, drops fields it does not know and
 * refuses the rest with a `CagepostError` whose sentence can be shown ("conflict" for a newer version).
 */
export const parseTimeline = (raw: unknown): Timeline => {
  const timeline = parseOuter(liftEvents(raw));
  if (timeline.durationMs === 0) throw refused('It is 0 seconds long.');
  checkBegin(timeline.events);
  checkOrder(timeline.events);
  const last = timeline.events.at(-1)?.t ?? 0;
  if (last > timeline.durationMs)
    throw refused('It goes on after its end.', { last, durationMs: timeline.durationMs });
  checkFrames(timeline);
  return timeline;
};

/** Reads a recipe that was stored or sent; refuses with a `CagepostError` ("conflict" for a newer version). */
export const parseRecipe = (raw: unknown): Recipe => parseRecipeOuter(raw);

const checkFrames = ({ clips, events }: Timeline): void => {
  const frames = new Map(clips.map((clip) => [clip.clipId, clip.frameCount]));
  if (frames.size !== clips.length) throw refused('It names one clip twice.');
  const check = (shown: { clipId: string; frame: number } | null, t: number) => {
    if (!shown) return;
    const frameCount = frames.get(shown.clipId);
    if (frameCount === undefined) throw refused('It shows a clip that it does not name.', { t });
    if (shown.frame >= frameCount)
      throw refused('It shows a frame that its clip does not have.', { t, frame: shown.frame, frameCount });
  };
  for (const event of events) {
    if (event.kind === 'frame') check(event, event.t);
    if (event.kind === 'beside') check(event.beside, event.t);
    if (event.kind === 'scene') {
      check(event.scene, event.t);
      check(event.scene.beside, event.t);
    }
  }
};

/** Why a timeline does not go with the clips that are there now. */
export interface Misfit {
  clipId: string;
  /** `other`: none of its clips is there; `gone`: this one is not; `replaced`: it has other frames than it had. */
  why: 'other' | 'gone' | 'replaced';
  /** A sentence for people. */
  sentence: string;
}

/**
 * Holds a timeline against the clips of its lesson as they are now. An empty list: they fit. Frames of a clip that is
 * gone or replaced must not be shown as the ones the coach spoke about; voice and captions still can be.
 */
export const fitsClips = (
  timeline: Pick<Timeline, 'clips'>,
  clips: readonly { id: string; frameCount: number }[],
): Misfit[] => {
  const now = new Map(clips.map((clip) => [clip.id, clip.frameCount]));
  const isOther = timeline.clips.every(({ clipId }) => !now.has(clipId));
  return timeline.clips.flatMap(({ clipId, frameCount }): Misfit[] => {
    const has = now.get(clipId);
    if (has === frameCount) return [];
    const why = has !== undefined ? 'replaced' : isOther && clips.length > 0 ? 'other' : 'gone';
    return [{ clipId, why, sentence: MISFIT[why] }];
  });
};

const KEPT = 'The voice and the captions were kept and can still be played.';
const MISFIT = {
  other: `This breakdown was made for other clips than those of this lesson. ${KEPT}`,
  gone: `A clip of this breakdown was removed, so its frames cannot be shown. ${KEPT}`,
  replaced: `A clip was replaced after this breakdown was made, so its frames are not the same ones. ${KEPT}`,
} as const satisfies Record<Misfit['why'], string>;
