import { writeAudit } from '@/lib/data/audit.write';
import { saveMoneyPolicy } from '@/lib/data/program.write';
import { transaction } from '@/lib/data/transaction';
import { moneyPolicySchema, type MoneyPolicy } from '@/lib/domain/billing/policy';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';

/** Sets what is agreed about money from now on. What was bought keeps what it was bought under. By a lead. */
export async function setMoneyPolicy(viewer: Viewer, input: Omit<MoneyPolicy, 'version'>): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  const parsed = moneyPolicySchema.safeParse({ version: 1, ...input, terms: input.terms.trim() });
  if (!parsed.success) {
    throw new CagepostError(
      'invalid',
      'Write 0 to 365 whole days, and a share of 0 to 100 whole per cent. Nothing was changed.',
    );
  }
  await transaction(viewer, async (tx) => {
    await saveMoneyPolicy(viewer, tx, parsed.data);
    await writeAudit(viewer, tx, { action: 'money.agreed', subject: `program:${viewer.programId}` });
  });
}
