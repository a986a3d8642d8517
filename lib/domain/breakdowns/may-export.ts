import type { Day } from '../people/age';
import { isMinor } from '../people/safeguarding';
import { isStaff, type Viewer } from '../people/viewer';
import type { PersonId } from '../shared/ids';

/**
 * Whether the viewer may make a file of a breakdown of this player's: a file leaves the program's care. For a minor
 * (or where no birth date is known) only a verified guardian and the program's staff, for an adult also the player.
 */
export const mayExport = (
  viewer: Viewer,
  player: { id: PersonId; birthDate: Day | null },
  today: Day,
): boolean => {
  if (isStaff(viewer)) return true;
  if (viewer.wards.includes(player.id)) return true;
  return viewer.personId === player.id && !isMinor(player, today);
};
