import * as z from 'zod';
import { CLIP_VIEWS } from '../clips/clip';
import { CHECKPOINTS } from './checkpoint';

/** One line of a checklist. `id` is a slug that stays the same across versions, so that answers can be followed. */
export const checklistItemSchema = z.object({
  id: z.string().regex(/^[a-z][a-z0-9-]{1,47}$/),
  checkpoint: z.enum(CHECKPOINTS),
  title: z.string().min(1).max(80),
  lookFor: z.string().max(400),
  /** Views from which it can be judged. */
  views: z.array(z.enum(CLIP_VIEWS)).min(1),
  /** Where the item comes from, shown with it. */
  standing: z.string().max(120),
});
export type ChecklistItem = z.infer<typeof checklistItemSchema>;

export const MOST_ITEMS = 40;

/** A program's checklist as stored: in checkpoint order, ids unique. */
export const checklistSchema = z
  .array(checklistItemSchema)
  .min(1)
  .max(MOST_ITEMS)
  .refine((items) => new Set(items.map((i) => i.id)).size === items.length, 'Two items share an id.');
export type Checklist = z.infer<typeof checklistSchema>;
