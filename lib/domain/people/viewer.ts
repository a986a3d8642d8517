import type { Brand } from '../shared/brand';
import type { PersonId, ProgramId } from '../shared/ids';
import type { Day } from './age';

export const ROLES = ['player', 'guardian', 'coach', 'lead'] as const;
export type Role = (typeof ROLES)[number];

/**
 * Who is asking: one person inside one program. Branded, and only `lib/auth/viewer.ts` makes one from a session,
 * so that a query without a checked viewer does not compile.
 */
export type Viewer = Brand<
  {
    readonly personId: PersonId;
    readonly programId: ProgramId;
    readonly roles: readonly Role[];
    /** Players whose verified guardian this person is. */
    readonly wards: readonly PersonId[];
    /** Whether this person's checks for work with minors hold today: see `clearances.ts`. */
    readonly isCleared: boolean;
    /** Who was born up to this day is of age today, in the program's zone. */
    readonly adultsBornUntil: Day;
  },
  'Viewer'
>;

/** True for coaches and leads of the viewer's program. */
export const isStaff = (viewer: Viewer) => viewer.roles.includes('coach') || viewer.roles.includes('lead');
/** True for leads of the viewer's program. */
export const isLead = (viewer: Viewer) => viewer.roles.includes('lead');

/** Players for whom the viewer may send a swing: oneself as a player, and one's wards. Staff send for nobody. */
export const sendsFor = (viewer: Viewer): PersonId[] => [
  ...(viewer.roles.includes('player') ? [viewer.personId] : []),
  ...(viewer.roles.includes('guardian') ? viewer.wards : []),
];

/** The program itself at work without a person: the worker, the seed, the sign-in, the health check. Branded like `Viewer`; see `lib/auth/system.ts`. */
export type System = Brand<{ readonly system: 'cards' | 'worker' | 'seed' | 'sign-in' | 'health' }, 'System'>;
