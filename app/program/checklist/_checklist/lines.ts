import * as z from 'zod';
import {
  checklistItemSchema,
  checklistSchema,
  type Checklist,
  type ChecklistItem,
} from '@/lib/domain/checkpoints/checklist';
import { CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { CLIP_VIEWS } from '@/lib/domain/clips/clip';
import type { ChecklistLine } from '@/lib/domain/checkpoints/versions';

/** A line in the editor; `key` stays while it is written. */
export type Line = ChecklistLine & { key: string };

/** What somebody writes: the version it began with, and the lines. */
export interface Draft {
  base: { number: number; items: Checklist };
  lines: Line[];
}

export const lineOf = (item: ChecklistItem): Line => ({ ...item, key: item.id });

export const newLine = (checkpoint: Checkpoint): Line => ({
  key: crypto.randomUUID(),
  id: null,
  checkpoint,
  title: '',
  lookFor: '',
  views: ['open_side'],
  standing: 'Common practice, no source',
});

/** The lines of one checkpoint, in their order. */
export const linesAt = (lines: readonly Line[], checkpoint: Checkpoint): Line[] =>
  lines.filter((line) => line.checkpoint === checkpoint);

/** The lines with one moved by a place up (-1) or down (1) within its checkpoint. */
export const moveLine = (lines: readonly Line[], key: string, by: -1 | 1): Line[] =>
  CHECKPOINTS.flatMap((checkpoint) => {
    const here = linesAt(lines, checkpoint);
    const at = here.findIndex((line) => line.key === key);
    const [one, other] = [here[at], here[at + by]];
    if (!one || !other) return here;
    return here.map((line, index) => (index === at ? other : index === at + by ? one : line));
  });

/** The lines as a checklist, for saying what differs: a new one goes by its key. */
export const asChecklist = (lines: readonly Line[]): Checklist =>
  CHECKPOINTS.flatMap((checkpoint) =>
    linesAt(lines, checkpoint).map(({ key, id, ...line }) => ({ ...line, id: id ?? key })),
  );

const draftSchema = z.object({
  base: z.object({ number: z.int(), items: checklistSchema }),
  lines: z.array(
    checklistItemSchema.extend({
      key: z.string(),
      id: z.string().nullable(),
      title: z.string().max(80),
      views: z.array(z.enum(CLIP_VIEWS)),
    }),
  ),
});

const PLACE = 'checklist-draft';

/** What was written on this device and not saved yet; null when nothing is there. */
export const readDraft = (): Draft | null => {
  try {
    const kept = localStorage.getItem(PLACE);
    return kept === null ? null : (draftSchema.safeParse(JSON.parse(kept)).data ?? null);
  } catch {
    return null;
  }
};

/** Keeps what is written on this device, or (null) forgets it. A device that cannot keep anything goes on without. */
export const keepDraft = (draft: Draft | null): void => {
  try {
    if (draft) localStorage.setItem(PLACE, JSON.stringify(draft));
    else localStorage.removeItem(PLACE);
  } catch {
    return;
  }
};
