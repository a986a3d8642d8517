import type { Checklist } from '../checkpoints/checklist';
import type { Sheet } from './sheet';

/** One thing that is missing. `blocks` stops the return; the others are reminders. Sentences are for the coach. */
export type Missing =
  | { readonly kind: 'no-fix-first'; readonly blocks: true; readonly sentence: string }
  | {
      readonly kind: 'no-sentence';
      readonly blocks: true;
      readonly sentence: string;
      readonly itemId: string;
    }
  | {
      readonly kind: 'fix-first-gone';
      readonly blocks: true;
      readonly sentence: string;
      readonly itemId: string;
    }
  | { readonly kind: 'nothing-judged'; readonly blocks: true; readonly sentence: string }
  | {
      readonly kind: 'to-judge';
      readonly blocks: false;
      readonly sentence: string;
      readonly itemIds: readonly string[];
    }
  | {
      readonly kind: 'many-cues' | 'many-drills';
      readonly blocks: false;
      readonly sentence: string;
      readonly count: number;
    };

/** More cues than this is told: one thing at a time is hard enough (our own choice). */
export const CUES_TO_KEEP = 3;
/** More drills than this is told (our own choice, as with cues). */
export const DRILLS_TO_KEEP = 3;

/**
 * What stands between a sheet and its return: first what blocks it (a fix first with its sentence, one verdict),
 * then reminders. `checklist` is the one the lesson is judged by.
 */
export const missingForReturn = (sheet: Sheet, checklist: Checklist): Missing[] => {
  const missing: Missing[] = [];
  const known = new Set(checklist.map((item) => item.id));
  const judged = new Set(
    sheet.answers.filter((a) => a.verdict !== null && known.has(a.itemId)).map((a) => a.itemId),
  );

  if (!sheet.fixFirst) {
    missing.push({ kind: 'no-fix-first', blocks: true, sentence: 'Choose the one thing to fix first.' });
  } else if (!known.has(sheet.fixFirst.itemId)) {
    missing.push({
      kind: 'fix-first-gone',
      blocks: true,
      sentence: 'The item you chose to fix first is not on this checklist any more. Choose another one.',
      itemId: sheet.fixFirst.itemId,
    });
  } else if (sheet.fixFirst.sentence.trim() === '') {
    missing.push({
      kind: 'no-sentence',
      blocks: true,
      sentence: 'Say in one sentence what to fix first. The player reads it before anything else.',
      itemId: sheet.fixFirst.itemId,
    });
  }
  if (judged.size === 0) {
    missing.push({
      kind: 'nothing-judged',
      blocks: true,
      sentence: 'Judge at least one item of the checklist.',
    });
  }

  const itemIds = checklist.map((item) => item.id).filter((id) => !judged.has(id));
  if (itemIds.length > 0 && judged.size > 0) {
    missing.push({
      kind: 'to-judge',
      blocks: false,
      sentence: `${itemIds.length} of ${checklist.length} items to judge. You can return without them.`,
      itemIds,
    });
  }
  const count = sheet.cues.filter((c) => c.text.trim() !== '').length;
  if (count > CUES_TO_KEEP) {
    missing.push({
      kind: 'many-cues',
      blocks: false,
      sentence: `${count} cues are a lot to swing by. Three or fewer are easier to keep in mind.`,
      count,
    });
  }
  if (sheet.assignments.length > DRILLS_TO_KEEP) {
    missing.push({
      kind: 'many-drills',
      blocks: false,
      sentence: `${sheet.assignments.length} drills are a lot to practise. Three or fewer are more likely to be done.`,
      count: sheet.assignments.length,
    });
  }
  return missing;
};

/** Whether nothing blocks the return. */
export const isReadyToReturn = (sheet: Sheet, checklist: Checklist): boolean =>
  missingForReturn(sheet, checklist).every((m) => !m.blocks);
