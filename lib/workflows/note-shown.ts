import { noteShown as note } from '@/lib/data/audit.write';
import { readPlayer } from '@/lib/data/people.read';
import type { Shown } from '@/lib/domain/people/shown';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Writes down that staff were shown something of a minor. Of grown players, and of who looks at their own, nothing. */
export async function noteShown(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  shown: { playerId: PersonId; what: Shown; id: string },
): Promise<void> {
  if (!isStaff(viewer) || viewer.wards.includes(shown.playerId)) return;
  const player = await readPlayer(viewer, shown.playerId);
  if (!player || (player.birthDate !== null && player.birthDate <= viewer.adultsBornUntil)) return;
  await note(viewer, shown, clock.now());
}
