import { writeAudit } from '@/lib/data/audit.write';
import { readProgram } from '@/lib/data/program.read';
import { savePrice } from '@/lib/data/prices.write';
import { saveProgram } from '@/lib/data/program.write';
import { transaction } from '@/lib/data/transaction';
import { MOST_MINOR } from '@/lib/domain/billing/entry-refusals';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';
import { assertAnswered } from './set-hours';

/** What a lead sets for the whole program. The price holds for lessons sent from now on. */
export interface ProgramSettings {
  name: string;
  promiseHours: number;
  howToPay: string;
  priceLabel: string;
  amountMinor: number;
}

/** Two weeks: who would wait longer? Our own choice, no source. */
export const MOST_PROMISE_HOURS = 24 * 14;

function faultIn({ name, promiseHours, amountMinor }: ProgramSettings): string | null {
  if (!name.trim()) return 'The program needs a name.';
  if (!Number.isInteger(promiseHours) || promiseHours < 1 || promiseHours > MOST_PROMISE_HOURS) {
    return `Promise an answer within 1 to ${MOST_PROMISE_HOURS} whole hours.`;
  }
  if (amountMinor < 0) return 'A price cannot be below zero.';
  const isAmount = Number.isInteger(amountMinor) && amountMinor <= MOST_MINOR;
  return isAmount ? null : 'Write the price with at most the decimals of the currency.';
}

/** Changes the program's name, promise, way to pay and price. Lessons already sent keep what they were sent under. */
export async function updateProgram(
  { clock, ids }: Pick<Ports, 'clock' | 'ids'>,
  viewer: Viewer,
  input: ProgramSettings,
): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  const fault = faultIn(input);
  if (fault) throw new CagepostError('invalid', `${fault} Nothing was changed.`);
  await transaction(viewer, async (tx) => {
    const before = await readProgram(viewer, tx);
    const { priceLabel, amountMinor, ...facts } = input;
    assertAnswered({ ...before, promiseHours: facts.promiseHours }, clock.now());
    await saveProgram(viewer, tx, facts);
    await savePrice(viewer, tx, {
      kind: 'lesson',
      seriesId: ids.uuid(),
      label: priceLabel,
      lessons: 1,
      validDays: null,
      amountMinor,
      currency: before.currency,
      at: clock.now(),
    });
    await writeAudit(viewer, tx, { action: 'program.changed', subject: `program:${viewer.programId}` });
  });
}
