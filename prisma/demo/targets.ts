import type { Prisma } from '../../lib/data/generated/client';
import { demoId } from './ids';

const DAY = 24;

/** What the demo's coaches want of two measures: one target for everybody, and one player's own that took its place. */
export async function writeTargets(
  tx: Prisma.TransactionClient,
  now: Date,
  programId: string,
): Promise<void> {
  const when = (hours: number) => new Date(now.getTime() + hours * 3_600_000);
  const target = (key: string, player: string | null, by: string, measure: string, at: number) => ({
    id: demoId(`target/${key}`),
    programId,
    playerId: player && demoId(player),
    measure,
    setById: demoId(by),
    setAt: when(at),
  });
  await tx.measureTarget.createMany({
    data: [
      { ...target('program', null, 'noor', 'stride-foot-openness', -90 * DAY), high: 50 },
      { ...target('caleb', 'caleb', 'deshawn', 'stride-foot-openness', -63 * DAY + 3), high: 45 },
      { ...target('caleb-head', 'caleb', 'deshawn', 'head-ahead-of-belt', -63 * DAY + 3), low: -5, high: 2 },
    ],
  });
}
