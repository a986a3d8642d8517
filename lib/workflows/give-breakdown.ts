import { writeAudit } from '@/lib/data/audit.write';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { giveBreakdowns, lockOwnBreakdown } from '@/lib/data/breakdowns.write';
import { lockLesson } from '@/lib/data/lessons.write';
import { readAuthor } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import type { BreakdownFacts } from '@/lib/domain/breakdowns/breakdown';
import type { NoticeTo } from '@/lib/domain/notices/plan';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { assertContact, loadSide, tellPlayersSide } from './thread-side';

/**
 * Refuses to give breakdowns of which one is still being put together, and, unless the coach has read the reminder,
 * one that is spoken and has no captions.
 */
export function assertReadyToGive(breakdowns: readonly BreakdownFacts[], withoutCaptions: boolean): void {
  const open = breakdowns.filter((one) => one.givenAt === null);
  if (open.some((one) => one.state === 'assembling'))
    throw new CagepostError(
      'wrong-state',
      'A breakdown of this lesson is still being put together. Everything is kept; it takes some seconds, then try again.',
    );
  const silent = open.filter((one) => one.state === 'ready' && one.hasVoice && one.captions.vtt === '');
  if (silent.length > 0 && !withoutCaptions)
    throw new CagepostError(
      'invalid',
      'A breakdown of this lesson has no captions, so somebody who cannot hear it misses what you say. Write them first, or return it without.',
      { reminder: 'captions', breakdowns: silent.map((one) => one.id) },
    );
}

/**
 * Gives one more breakdown of a lesson that was returned already: from then on the player's side sees it, and is told.
 * Returns who is told and when. Giving it again changes nothing.
 */
export async function giveBreakdown(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { breakdownId: BreakdownId; withoutCaptions: boolean },
): Promise<NoticeTo[]> {
  const now = clock.now();
  return transaction(viewer, async (tx) => {
    const known = await readBreakdown(viewer, input.breakdownId, tx);
    if (!known) throw notFound('breakdown');
    const { lessonId } = known;
    // The lesson first, as where it is returned: two locks taken in two orders would wait for each other.
    const lesson = await lockLesson(viewer, tx, lessonId);
    const standing = await lockOwnBreakdown(viewer, tx, input.breakdownId);
    if (standing.givenAt) return [];
    if (lesson.state !== 'returned' && lesson.state !== 'closed')
      throw new CagepostError(
        'wrong-state',
        'This lesson is not returned yet. The breakdown goes to the player when you return it.',
      );
    if (standing.state !== 'ready')
      throw new CagepostError('wrong-state', 'This breakdown is not ready yet. Everything is kept.');
    const side = await loadSide(viewer, standing.threadId, now, tx);
    assertContact(viewer, side, 'The breakdown is kept.');
    assertReadyToGive([known], input.withoutCaptions);
    await giveBreakdowns(viewer, tx, lessonId, now, input.breakdownId);
    const told = await tellPlayersSide(viewer, tx, side, now, {
      kind: 'breakdown-given',
      data: {
        programName: side.program.name,
        playerName: side.player.name,
        coachName: (await readAuthor(viewer, tx)).name,
        lessonNumber: standing.lessonNumber,
        path: `/lessons/${lessonId}#breakdown-${input.breakdownId}`,
      },
    });
    await writeAudit(viewer, tx, {
      action: 'breakdown.given',
      subject: `breakdown:${input.breakdownId}`,
      data: { lesson: lessonId },
    });
    await queue.drainOutbox(tx);
    return told;
  });
}
