import * as z from 'zod';
import { CLIP_VIEWS } from '../clips/clip';
import { VIEW_WORD } from '../lessons/words';
import { MOST_ITEMS, type Checklist, type ChecklistItem } from './checklist';
import { CHECKPOINT_NAME, CHECKPOINTS } from './checkpoint';

/** A line as a lead writes it. `id` null: a new item, which gets its id when it is saved. */
export const checklistLineSchema = z.object({
  id: z.string().max(48).nullable(),
  checkpoint: z.enum(CHECKPOINTS),
  title: z.string().trim().min(1, 'Give every item a name.').max(80, 'Keep a name under 80 letters.'),
  lookFor: z.string().trim().max(400, 'Keep what to look for under 400 letters.'),
  views: z.array(z.enum(CLIP_VIEWS)).min(1, 'Say from where each item can be judged.'),
  standing: z
    .string()
    .trim()
    .min(1, 'Say of each item where it comes from, or that it is common practice.')
    .max(120, 'Keep where an item comes from under 120 letters.'),
});
export type ChecklistLine = z.infer<typeof checklistLineSchema>;

/** A whole checklist as a lead writes it. */
export const checklistLinesSchema = z
  .array(checklistLineSchema)
  .min(1, 'A checklist needs at least one item.')
  .max(MOST_ITEMS, `A checklist has at most ${MOST_ITEMS} items.`);

const slugOf = (title: string): string =>
  title
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[^a-z]+/, '')
    .slice(0, 40)
    .replace(/-+$/, '');

const freeId = (title: string, taken: ReadonlySet<string>): string => {
  const slug = slugOf(title);
  const start = slug.length < 2 ? 'item' : slug;
  if (!taken.has(start)) return start;
  let number = 2;
  while (taken.has(`${start}-${number}`)) number += 1;
  return `${start}-${number}`;
};

/**
 * The next version out of what a lead wrote, in checkpoint order. A new item gets an id that no version ever had, so
 * that no answer of an earlier item is taken for one of its own. Null when a line carries an id that never was, or twice.
 */
export const nextChecklist = (
  lines: readonly ChecklistLine[],
  everUsed: ReadonlySet<string>,
): Checklist | null => {
  const kept = lines.flatMap((line) => (line.id === null ? [] : [line.id]));
  if (new Set(kept).size !== kept.length || kept.some((id) => !everUsed.has(id))) return null;
  const taken = new Set(everUsed);
  const items = lines.map((line): ChecklistItem => {
    const id = line.id ?? freeId(line.title, taken);
    taken.add(id);
    return { ...line, id, views: CLIP_VIEWS.filter((view) => line.views.includes(view)) };
  });
  return CHECKPOINTS.flatMap((checkpoint) => items.filter((item) => item.checkpoint === checkpoint));
};

const sameList = (a: readonly string[], b: readonly string[]) =>
  a.length === b.length && a.every((one, index) => one === b[index]);
const viewWords = (item: Pick<ChecklistItem, 'views'>) =>
  CLIP_VIEWS.filter((view) => item.views.includes(view))
    .map((view) => VIEW_WORD[view].toLowerCase())
    .join(', ');

const itemChanges = (before: ChecklistItem, after: ChecklistItem): string[] => {
  const name = `“${after.title}”`;
  return [
    ...(before.title === after.title ? [] : [`“${before.title}” is now called ${name}.`]),
    ...(before.checkpoint === after.checkpoint
      ? []
      : [
          `${name} moved from ${CHECKPOINT_NAME[before.checkpoint]} to ${CHECKPOINT_NAME[after.checkpoint]}.`,
        ]),
    ...(before.lookFor === after.lookFor ? [] : [`What to look for at ${name} was written anew.`]),
    ...(viewWords(before) === viewWords(after)
      ? []
      : [`${name} is judged from ${viewWords(after)} (before: ${viewWords(before)}).`]),
    ...(before.standing === after.standing
      ? []
      : [`${name} comes from: ${after.standing} (before: ${before.standing}).`]),
  ];
};

/** What differs between two versions, one sentence each; empty when they are alike. */
export const versionChanges = (before: Checklist, after: Checklist): string[] => {
  const [old, now] = [new Map(before.map((i) => [i.id, i])), new Map(after.map((i) => [i.id, i]))];
  const stayed = after.filter((item) => old.has(item.id));
  const moved = CHECKPOINTS.filter((checkpoint) => {
    const order = (list: Checklist) =>
      list
        .filter((i) => i.checkpoint === checkpoint && old.has(i.id) && now.has(i.id))
        .map((i) => i.id)
        .filter((id) => old.get(id)?.checkpoint === checkpoint && now.get(id)?.checkpoint === checkpoint);
    return !sameList(order(before), order(after));
  });
  return [
    ...after.filter((item) => !old.has(item.id)).map((item) => `New: “${item.title}”.`),
    ...before.filter((item) => !now.has(item.id)).map((item) => `Retired: “${item.title}”.`),
    ...stayed.flatMap((item) => itemChanges(old.get(item.id) ?? item, item)),
    ...moved.map((checkpoint) => `The items of ${CHECKPOINT_NAME[checkpoint]} stand in another order.`),
  ];
};
