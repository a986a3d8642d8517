import { writeAudit } from '@/lib/data/audit.write';
import { readProgram } from '@/lib/data/program.read';
import { replacePrice, saveProgram } from '@/lib/data/program.write';
import { transaction } from '@/lib/data/transaction';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** What a lead sets for the whole program. The price holds for lessons sent from now on. */
export interface ProgramSettings {
  name: string;
  promiseHours: number;
  howToPay: string;
  priceLabel: string;
  amountMinor: number;
}

/** Changes the program's name, promise, way to pay and price. Lessons already sent keep what they were sent under. */
export async function updateProgram(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: ProgramSettings,
): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  if (input.amountMinor < 0)
    throw new CagepostError('invalid', 'A price cannot be below zero. Nothing was changed.');
  await transaction(viewer, async (tx) => {
    const before = await readProgram(viewer, tx);
    const { priceLabel, amountMinor, ...facts } = input;
    await saveProgram(viewer, tx, facts);
    if (before.price?.label !== priceLabel || before.price.amountMinor !== amountMinor) {
      await replacePrice(viewer, tx, {
        label: priceLabel,
        amountMinor,
        currency: before.currency,
        at: clock.now(),
      });
    }
    await writeAudit(viewer, tx, { action: 'program.changed', subject: `program:${viewer.programId}` });
  });
}
