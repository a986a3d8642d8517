import { draftSchema, emptyDraft, type Draft } from '@/lib/domain/lessons/intake';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { HeldDraft } from './here-store';
import type { SendSetting } from './send-types';
import type { Opened } from './use-draft';

/** The draft as the program told it when the page was made. */
export interface KeptDraft {
  lessonId: LessonId;
  followsId: LessonId | null;
  draft: Draft;
}

export interface Sources {
  setting: Pick<SendSetting, 'player'>;
  kept: KeptDraft | null;
  /** What this device has of that draft, or of the player's latest one where the program told of none. */
  found: HeldDraft | null;
  /** What a new lesson follows unless the sender says otherwise; `isAsked` when the way here named it. */
  follows: { id: LessonId | null; isAsked: boolean };
  /** The page was made again after this device's copy was read. */
  isFresh: boolean;
}

// Parsed, so that both have their keys in one order.
const isSame = (a: Draft, b: Draft) =>
  JSON.stringify(draftSchema.parse(a)) === JSON.stringify(draftSchema.parse(b));

/**
 * Where the form begins, from what the program and this device have: what the program does not have yet goes first,
 * then the program's. `stale` when the page may be older than the last save: it was made while that save was on its
 * way, or came out of the browser's history. Then the page has to be made again before anybody writes over it.
 */
export const openDraft = (
  { setting, kept, found, follows, isFresh }: Sources,
  newId: () => string,
): Opened | 'stale' => {
  const here = found?.here ?? {};
  if (found && !found.isKept) {
    const value = { draft: found.draft, followsId: found.followsId as LessonId | null, here };
    return { lessonId: found.lessonId as LessonId, value, told: kept?.followsId, isKept: false };
  }
  if (found && !isFresh && !(kept && isSame(found.draft, kept.draft))) return 'stale';
  if (kept) {
    const value = { draft: kept.draft, followsId: follows.isAsked ? follows.id : kept.followsId, here };
    const isKept = value.followsId === kept.followsId;
    return { lessonId: kept.lessonId, value, told: kept.followsId, isKept };
  }
  // A copy that the program knows no draft for belongs to a lesson that was sent or thrown away elsewhere.
  const draft = { ...emptyDraft(), bats: setting.player.bats };
  const value = { draft, followsId: follows.id, here: {} };
  return { lessonId: newId() as LessonId, value, told: undefined, isKept: true };
};
