import { writeAudit } from '@/lib/data/audit.write';
import { setStaffRole, type StaffRole } from '@/lib/data/people.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';

/** A lead gives or takes a staff role. It holds from that person's next request on. The last lead cannot be taken. */
export async function changeStaffRole(
  viewer: Viewer,
  { personId, role, isOn }: { personId: PersonId; role: StaffRole; isOn: boolean },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    await setStaffRole(viewer, tx, personId, role, isOn);
    await writeAudit(viewer, tx, {
      action: isOn ? 'role.given' : 'role.taken',
      subject: `person:${personId}`,
      data: { role },
    });
  });
}
