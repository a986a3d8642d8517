import { isDeepStrictEqual } from 'node:util';
import { writeAudit } from '@/lib/data/audit.write';
import { keepRecipe, listStoredParts, lockOwnBreakdown } from '@/lib/data/breakdowns.write';
import { assertRemarksThere } from '@/lib/data/remarks.write';
import { transaction } from '@/lib/data/transaction';
import { durationOf } from '@/lib/domain/breakdowns/join';
import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import { fitsClips } from '@/lib/domain/breakdowns/parse-timeline';
import type { Recipe } from '@/lib/domain/breakdowns/timeline';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { assertContact, loadSide } from './thread-side';

export interface KeepInput {
  breakdownId: BreakdownId;
  recipe: Recipe;
  /** Of each recorded take: how many parts it has, numbered from 0. */
  parts: readonly { segmentId: string; count: number }[];
  title?: string | undefined;
}

/** On its way to be put together, or told which parts have not arrived yet; then nothing was changed. */
export type KeepOutcome =
  { kind: 'assembling' } | { kind: 'missing'; missing: { segmentId: string; numbers: number[] }[] };

const KEPT = 'Everything you recorded is kept.';
const refused = (sentence: string, detail: Record<string, unknown> = {}) =>
  new CagepostError('invalid', `${sentence} ${KEPT}`, detail);

/**
 * The coach is done recording: the recipe says which pieces of which takes make the breakdown, and the worker puts it
 * together. Possible until it was given; the same recipe again changes nothing. For its coach, or a lead.
 */
export async function keepBreakdown(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: KeepInput,
): Promise<KeepOutcome> {
  const { breakdownId, recipe } = input;
  return transaction(viewer, async (tx) => {
    const standing = await lockOwnBreakdown(viewer, tx, breakdownId);
    if (standing.state === 'removed')
      throw new CagepostError('wrong-state', 'This breakdown was removed. Record a new one.');
    const isSame = isDeepStrictEqual(standing.recipe, recipe);
    if (isSame && (standing.state === 'assembling' || standing.state === 'ready'))
      return { kind: 'assembling' };
    if (standing.givenAt)
      throw new CagepostError(
        'wrong-state',
        'The player has this breakdown already, so it stays as it is. Record a second one.',
      );
    assertContact(viewer, await loadSide(viewer, standing.threadId, clock.now(), tx), KEPT);
    assertRecipe(input, standing.clips);
    const remarks = recipe.pieces.flatMap((piece) => (piece.kind === 'remark' ? [piece.segmentId] : []));
    await assertRemarksThere(viewer, tx, remarks);
    const missing = missingParts(input, await listStoredParts(viewer, tx, breakdownId));
    if (missing.length > 0) return { kind: 'missing', missing };
    const title = input.title ?? standing.title;
    const take = await keepRecipe(viewer, tx, breakdownId, { recipe, title });
    await queue.workOnBreakdown({ kind: 'assemble', breakdownId }, tx);
    await writeAudit(viewer, tx, {
      action: 'breakdown.kept',
      subject: `breakdown:${breakdownId}`,
      data: { take, pieces: recipe.pieces.length },
    });
    return { kind: 'assembling' };
  });
}

function assertRecipe(
  { recipe, parts }: KeepInput,
  clips: readonly { id: string; frameCount: number }[],
): void {
  if (durationOf(recipe) > MAX_BREAKDOWN_MS)
    throw refused('A breakdown is at most 10 minutes long. Leave a stretch out.');
  const [misfit] = fitsClips(recipe, clips);
  if (misfit) throw refused(misfit.sentence, { clipId: misfit.clipId, why: misfit.why });
  const takes = new Set(parts.map((take) => take.segmentId));
  const unknown = recipe.pieces.find((piece) => piece.kind !== 'remark' && !takes.has(piece.segmentId));
  if (unknown)
    throw refused(
      'A take of this breakdown is not among those that were sent. Keep it again from the bench.',
      {
        segmentId: unknown.segmentId,
      },
    );
}

function missingParts(
  { recipe, parts }: KeepInput,
  stored: readonly { segmentId: string; number: number }[],
): { segmentId: string; numbers: number[] }[] {
  const there = new Set(stored.map((part) => `${part.segmentId} ${part.number}`));
  const used = new Set(recipe.pieces.map((piece) => piece.segmentId));
  return parts.flatMap(({ segmentId, count }) => {
    if (!used.has(segmentId)) return [];
    const numbers = Array.from({ length: count }, (_, number) => number);
    const missing = numbers.filter((number) => !there.has(`${segmentId} ${number}`));
    return missing.length > 0 ? [{ segmentId, numbers: missing }] : [];
  });
}
