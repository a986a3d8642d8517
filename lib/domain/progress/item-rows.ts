import type { Checklist, ChecklistItem } from '../checkpoints/checklist';
import { CHECKPOINTS, type Checkpoint, type Verdict } from '../checkpoints/checkpoint';
import type { Sheet } from '../review/sheet';

/** What a lesson says about an item: a verdict, not judged, not on its checklist (yet, or any more), or not returned yet. */
export type ItemState = Verdict | 'not-judged' | 'not-on-list' | 'retired' | 'waiting';

/** One checklist item across lessons, in their order. */
export interface ItemRow {
  readonly itemId: string;
  readonly title: string;
  readonly checkpoint: Checkpoint;
  readonly states: readonly ItemState[];
}

export const ITEM_STATE_WORD = {
  'not-judged': 'not judged',
  'not-on-list': 'not on the checklist yet',
  retired: 'no longer on the checklist',
  waiting: 'waiting',
} as const satisfies Record<Exclude<ItemState, Verdict>, string>;

interface Judged {
  readonly checklist: Checklist;
  readonly sheet: Sheet | null;
}

const isOn = ({ checklist }: Judged, itemId: string) => checklist.some((item) => item.id === itemId);

const statesOf = (lessons: readonly Judged[], itemId: string): ItemState[] => {
  const first = lessons.findIndex((lesson) => isOn(lesson, itemId));
  return lessons.map((lesson, index) => {
    if (!isOn(lesson, itemId)) return index < first ? 'not-on-list' : 'retired';
    if (!lesson.sheet) return 'waiting';
    return lesson.sheet.answers.find((answer) => answer.itemId === itemId)?.verdict ?? 'not-judged';
  });
};

/**
 * Every item that was on a checklist of these lessons (oldest first), under its checkpoint in swing order: the newest
 * checklist's own order and titles first, then items that it no longer has.
 */
export function itemRows(lessons: readonly Judged[]): ItemRow[] {
  const items = new Map<string, ChecklistItem>();
  for (const { checklist } of [...lessons].reverse())
    for (const item of checklist) if (!items.has(item.id)) items.set(item.id, item);
  return CHECKPOINTS.flatMap((checkpoint) =>
    [...items.values()]
      .filter((item) => item.checkpoint === checkpoint)
      .map(({ id, title }) => ({
        itemId: id,
        title,
        checkpoint,
        states: statesOf(lessons, id),
      })),
  );
}
