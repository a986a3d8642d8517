import { writeAudit } from '@/lib/data/audit.write';
import { replaceTarget } from '@/lib/data/targets.write';
import { transaction } from '@/lib/data/transaction';
import { targetSchema } from '@/lib/domain/measures/target';
import type { MeasureName } from '@/lib/domain/measures/names';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Sets what a measure should be, for one player or (null) for the whole program; both limits null takes it away. */
export async function setTarget(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { playerId: PersonId | null; measure: MeasureName; low: number | null; high: number | null },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('player');
  const parsed = targetSchema.safeParse(input);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw new CagepostError(
      'invalid',
      `${issue?.message ?? 'This is not a target.'} The target is as it was.`,
    );
  }
  const { playerId } = input;
  await transaction(viewer, async (tx) => {
    await replaceTarget(viewer, tx, { playerId, ...parsed.data, at: clock.now() });
    await writeAudit(viewer, tx, {
      action: 'target.set',
      subject: playerId === null ? `program:${viewer.programId}` : `person:${playerId}`,
      data: { ...parsed.data },
    });
  });
}
