import { writeAudit } from '@/lib/data/audit.write';
import { addDrills, replaceDrill } from '@/lib/data/drills.write';
import { transaction } from '@/lib/data/transaction';
import { drillSchema, type DrillId, type DrillText } from '@/lib/domain/drills/drill';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** Puts a drill into the library, or (`replaces`) a new version in the place of one. Lessons keep the version they gave. */
export async function saveDrill(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { drill: DrillText; replaces: DrillId | null },
): Promise<DrillId> {
  if (!isStaff(viewer)) throw notFound('drill');
  const parsed = drillSchema.safeParse(input.drill);
  if (!parsed.success) {
    throw new CagepostError(
      'invalid',
      `${parsed.error.issues[0]?.message ?? 'Something does not fit.'} What you wrote is kept.`,
    );
  }
  const now = clock.now();
  return transaction(viewer, async (tx) => {
    const id = input.replaces
      ? await replaceDrill(viewer, tx, input.replaces, parsed.data, now)
      : ((await addDrills(viewer, tx, [parsed.data], now))[0] ?? null);
    if (!id) {
      throw new CagepostError(
        'conflict',
        'This version was replaced or retired meanwhile. What you wrote is kept here; open the page anew.',
      );
    }
    await writeAudit(viewer, tx, { action: 'drill.saved', subject: `drill:${id}` });
    return id;
  });
}
