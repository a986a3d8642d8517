import type { Verdict } from '../checkpoints/checkpoint';
import type { Sheet } from '../review/sheet';

/** One item's verdict in a lesson and in the lesson before; null where it was not judged. */
export interface VerdictChange {
  itemId: string;
  before: Verdict | null;
  after: Verdict | null;
}

const verdictsOf = (sheet: Sheet) =>
  new Map(sheet.answers.flatMap((a) => (a.verdict ? [[a.itemId, a.verdict] as const] : [])));

/** The items whose verdict differs between two returned sheets and that were judged in both, in the later sheet's order. */
export function verdictChanges(before: Sheet, after: Sheet): VerdictChange[] {
  const earlier = verdictsOf(before);
  return [...verdictsOf(after)].flatMap(([itemId, verdict]) => {
    const was = earlier.get(itemId);
    return was && was !== verdict ? [{ itemId, before: was, after: verdict }] : [];
  });
}

const FURTHEST = ['off', 'close', 'set', 'not_seen'] as const satisfies readonly Verdict[];

/** What a checkpoint shows for all its items: the one furthest from set; `not_seen` only when all are; null when none is judged. */
export function furthestFromSet(verdicts: readonly (Verdict | null)[]): Verdict | null {
  return FURTHEST.find((verdict) => verdicts.includes(verdict)) ?? null;
}
