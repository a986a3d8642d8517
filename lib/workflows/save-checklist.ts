import { writeAudit } from '@/lib/data/audit.write';
import { addChecklistVersion, lockChecklist } from '@/lib/data/checklists.write';
import { transaction } from '@/lib/data/transaction';
import {
  checklistLinesSchema,
  nextChecklist,
  versionChanges,
  type ChecklistLine,
} from '@/lib/domain/checkpoints/versions';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

const invalid = (words: string) => new CagepostError('invalid', `${words} What you wrote is kept here.`);

/**
 * Makes a new version of the checklist out of version `from`. Lessons that were begun keep theirs. The id is minted by
 * the form, so that sending twice makes one. Refused when somebody else saved a version meanwhile. Returns its number.
 */
export async function saveChecklist(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { id: string; from: number; lines: readonly ChecklistLine[] },
): Promise<{ number: number }> {
  if (!isLead(viewer)) throw notFound('checklist');
  const parsed = checklistLinesSchema.safeParse(input.lines);
  if (!parsed.success) throw invalid(parsed.error.issues[0]?.message ?? 'Something does not fit.');
  return transaction(viewer, async (tx) => {
    const present = await lockChecklist(viewer, tx, input.id);
    if (present.kept !== null) return { number: present.kept };
    if (present.number !== input.from) {
      throw new CagepostError(
        'conflict',
        `${present.by ?? 'Somebody'} saved version ${present.number} while you were writing. Nothing was overwritten, ` +
          'and what you wrote is kept here. See below what they changed, then save yours on top of it or take theirs.',
      );
    }
    const items = nextChecklist(parsed.data, present.everUsed);
    if (!items) throw invalid('An item does not belong to this checklist. Open the page anew.');
    if (versionChanges(present.items, items).length === 0) {
      throw invalid(`Nothing differs from version ${present.number}, so no new one was made.`);
    }
    const number = await addChecklistVersion(viewer, tx, {
      id: input.id,
      number: present.number + 1,
      items,
      at: clock.now(),
    });
    await writeAudit(viewer, tx, {
      action: 'checklist.saved',
      subject: `checklist:${input.id}`,
      data: { number, items: items.length },
    });
    return { number };
  });
}
