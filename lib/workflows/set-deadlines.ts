import { writeAudit } from '@/lib/data/audit.write';
import { saveDeadlines } from '@/lib/data/retention.write';
import { readDeadlines } from '@/lib/data/retention.read';
import { transaction } from '@/lib/data/transaction';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { deadlinesSchema, RETENTION_CLASSES, type Deadlines } from '@/lib/domain/privacy/retention';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';

/**
 * A lead sets how long the program keeps things; it holds from the coming night on. Refuses days out of their bounds
 * with the class they are of. What was changed is in the audit.
 */
export async function setDeadlines(viewer: Viewer, input: Deadlines): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  const parsed = deadlinesSchema.safeParse(input);
  if (!parsed.success) {
    const [first] = parsed.error.issues;
    throw new CagepostError('invalid', `${first?.message ?? 'Write whole days.'} Nothing was changed.`);
  }
  const before = await readDeadlines(viewer);
  const changed = RETENTION_CLASSES.filter((name) => before[name] !== parsed.data[name]);
  if (changed.length === 0) return;
  await transaction(viewer, async (tx) => {
    await saveDeadlines(viewer, tx, parsed.data);
    await writeAudit(viewer, tx, {
      action: 'retention.set',
      subject: `program:${viewer.programId}`,
      data: Object.fromEntries(changed.map((name) => [name, parsed.data[name]])),
    });
  });
}
