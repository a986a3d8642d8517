import { keepRemark as keep, type RemarkInput } from '@/lib/data/remarks.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/**
 * Puts a remark on the coach's own shelf, or a new version of one; the same id again is the same version. A written one
 * has words; the voice of a spoken one is sent afterwards under the remark's id.
 */
export async function keepRemark(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: Omit<RemarkInput, 'at' | 'durationMs'> & { isSpoken: boolean; durationMs: number | null },
): Promise<void> {
  const { isSpoken, ...facts } = input;
  if (!isSpoken && facts.text.trim() === '')
    throw new CagepostError(
      'invalid',
      'Write the remark first, or speak it. What you typed is kept in the field.',
    );
  const durationMs = isSpoken ? (facts.durationMs ?? 0) : null;
  await transaction(viewer, (tx) => keep(viewer, tx, { ...facts, durationMs, at: clock.now() }));
}
