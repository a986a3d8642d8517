import { writeAudit } from '@/lib/data/audit.write';
import { keepCaptions, lockBreakdown } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import { writeVtt } from '@/lib/domain/captions/write-vtt';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';

/** Saved under a new revision, or told what stands there instead. */
export type CaptionsOutcome =
  { kind: 'kept'; revision: number } | { kind: 'conflict'; vtt: string; revision: number };

/**
 * Keeps captions (WebVTT) when nobody saved since `baseRevision`; `isReady` says that the coach has read them over.
 * Captions of which a part cannot be read are refused with the line and the reason, and what was typed stays with its
 * writer. Without any caption they are taken away. For staff.
 */
export async function saveCaptions(
  viewer: Viewer,
  input: { breakdownId: BreakdownId; baseRevision: number; vtt: string; isReady: boolean },
): Promise<CaptionsOutcome> {
  if (!isStaff(viewer)) throw notFound('breakdown');
  const { cues, problems } = parseVtt(input.vtt);
  const [problem] = problems;
  if (problem)
    throw new CagepostError(
      'invalid',
      `Line ${problem.line} of the captions cannot be kept. ${problem.sentence} Nothing was changed; what you wrote is still here.`,
      { problems: problems.slice(0, 5) },
    );
  return transaction(viewer, async (tx) => {
    const standing = await lockBreakdown(viewer, tx, input.breakdownId);
    if (standing.state === 'removed')
      throw new CagepostError('wrong-state', 'This breakdown was removed, so its captions went with it.');
    const given = input.isReady ? 'ready' : 'draft';
    const revision = await keepCaptions(viewer, tx, input.breakdownId, {
      baseRevision: input.baseRevision,
      vtt: cues.length > 0 ? writeVtt(cues) : '',
      state: cues.length > 0 ? given : 'none',
    });
    if (revision === null)
      return { kind: 'conflict', vtt: standing.captions, revision: standing.captionsRevision };
    if (input.isReady && standing.captionState !== 'ready')
      await writeAudit(viewer, tx, { action: 'captions.ready', subject: `breakdown:${input.breakdownId}` });
    return { kind: 'kept', revision };
  });
}
