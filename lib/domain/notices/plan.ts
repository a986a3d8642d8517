import { isMinor } from '../people/safeguarding';
import type { Day } from '../people/age';
import { afterQuietHours } from './quiet-hours';

/** The player's side of a thread, as far as telling them something goes. */
export interface PlayersSide {
  player: {
    id: string;
    name: string;
    email: string | null;
    birthDate: string | null;
    timeZone?: string | null;
  };
  guardians: readonly { id: string; name: string; email: string | null; isVerified: boolean }[];
}

/** Who is told, at which address, and not before when. */
export interface NoticeTo {
  personId: string;
  name: string;
  email: string;
  at: Date;
}

/**
 * Whom a notice to the player's side goes to: the player, if there is an address, and every verified guardian of a
 * minor. A minor's own notice waits for the end of the quiet hours in the player's own zone, or else in `timeZone`, the
 * program's; a guardian's does not.
 */
export function noticePlan(side: PlayersSide, now: Date, today: Day, timeZone: string): NoticeTo[] {
  const isYoung = isMinor({ birthDate: side.player.birthDate as Day | null }, today);
  const guardians = isYoung
    ? side.guardians.flatMap((g) =>
        g.isVerified && g.email ? [{ personId: g.id, name: g.name, email: g.email, at: now }] : [],
      )
    : [];
  const { id, name, email, timeZone: own } = side.player;
  const at = isYoung ? afterQuietHours(now, own ?? timeZone) : now;
  const player = email ? [{ personId: id, name, email, at }] : [];
  return [...guardians, ...player];
}
