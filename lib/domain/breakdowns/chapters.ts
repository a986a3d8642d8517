import { CHECKPOINT_NAME, type Checkpoint } from '../checkpoints/checkpoint';
import type { ChecklistItem } from '../checkpoints/checklist';
import type { Timeline } from './timeline';

/** A stretch of a breakdown under one checklist item, in milliseconds of the breakdown. */
export interface Chapter {
  fromMs: number;
  toMs: number;
  checkpoint: Checkpoint | null;
  itemId: string | null;
  title: string;
}

/** An item that was chosen for less than this is passed over: the hand was on its way to another. */
const LEAST_CHAPTER_MS = 1000;

/**
 * The chapters of a breakdown, one for each item (or checkpoint) the coach speaks about in a row; together they cover
 * it from 0 to its end. Titles come from the checklist; an item that is no longer on it goes by its checkpoint.
 */
export const chaptersOf = (
  timeline: Pick<Timeline, 'events' | 'durationMs'>,
  checklist: readonly Pick<ChecklistItem, 'id' | 'title' | 'checkpoint'>[],
): Chapter[] => {
  const items = new Map(checklist.map((item) => [item.id, item]));
  const starts: Omit<Chapter, 'toMs'>[] = [];
  for (const event of timeline.events) {
    const chosen = event.kind === 'scene' ? event.scene : event.kind === 'choose' ? event : null;
    if (!chosen) continue;
    const item = chosen.itemId === null ? undefined : items.get(chosen.itemId);
    const checkpoint = chosen.checkpoint ?? item?.checkpoint ?? null;
    const title = item?.title ?? (checkpoint ? CHECKPOINT_NAME[checkpoint] : 'The whole swing');
    starts.push({ fromMs: event.t, checkpoint, itemId: chosen.itemId, title });
  }
  const chapters: Chapter[] = [];
  starts.forEach((start, at) => {
    const toMs = starts[at + 1]?.fromMs ?? timeline.durationMs;
    const before = chapters.at(-1);
    if (before && isSame(before, start)) before.toMs = toMs;
    else chapters.push({ ...start, toMs });
  });
  return withoutShort(chapters);
};

const isSame = (a: Pick<Chapter, 'checkpoint' | 'itemId'>, b: Pick<Chapter, 'checkpoint' | 'itemId'>) =>
  a.checkpoint === b.checkpoint && a.itemId === b.itemId;

/** A short chapter becomes the beginning of the next one, at the end a part of the one before. */
const withoutShort = (chapters: readonly Chapter[]): Chapter[] => {
  const kept: Chapter[] = [];
  let fromMs: number | null = null;
  for (const chapter of chapters) {
    fromMs ??= chapter.fromMs;
    if (chapter.toMs - chapter.fromMs < LEAST_CHAPTER_MS && chapter !== chapters.at(-1)) continue;
    const before = kept.at(-1);
    const isTail = chapter.toMs - fromMs < LEAST_CHAPTER_MS;
    if (before && (isTail || isSame(before, chapter))) before.toMs = chapter.toMs;
    else kept.push({ ...chapter, fromMs });
    fromMs = null;
  }
  return kept;
};

/** The chapter that is on at `ms`; null when there is none. */
export const chapterAt = (chapters: readonly Chapter[], ms: number): Chapter | null =>
  chapters.findLast((chapter) => chapter.fromMs <= ms) ?? chapters[0] ?? null;
