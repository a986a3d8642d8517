import { addDays, subDays, subYears } from 'date-fns';
import { dayOfDate, type Day } from '@/lib/domain/people/age';
import { TELLING_DAYS, TURNING_AGES, type TurningAge } from '@/lib/domain/people/turning';
import type { System } from '@/lib/domain/people/viewer';
import type { PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** Somebody with an address. */
interface Reached {
  personId: string;
  email: string;
}

/** A player near an age at which other rules hold, in one program, with everybody who is to hear of it. */
export interface NearAge {
  playerId: PersonId;
  name: string;
  email: string | null;
  timeZone: string | null;
  birthDate: Day;
  program: { id: ProgramId; name: string; timeZone: string };
  guardians: Reached[];
  leads: Reached[];
}

/** Players whose birthday of 13 or 18 lies in the last days, whatever the zone; a day more on both sides. */
export async function listNearAges(_system: System, now: Date): Promise<NearAge[]> {
  const rows = await db().membership.findMany({
    where: {
      role: 'player',
      person: {
        OR: TURNING_AGES.map((age) => ({
          birthDate: {
            gte: subDays(subYears(now, age), TELLING_DAYS + 2),
            lte: addDays(subYears(now, age), 2),
          },
        })),
      },
    },
    select: {
      person: {
        select: {
          id: true,
          name: true,
          email: true,
          timeZone: true,
          birthDate: true,
          guardians: {
            where: { verifiedAt: { not: null } },
            select: { guardian: { select: { id: true, email: true } } },
          },
        },
      },
      program: {
        select: {
          id: true,
          name: true,
          timeZone: true,
          memberships: { where: { role: 'lead' }, select: { person: { select: { id: true, email: true } } } },
        },
      },
    },
  });
  return rows.flatMap(({ person, program }) => {
    if (!person.birthDate) return [];
    return [
      {
        playerId: person.id as PersonId,
        name: person.name,
        email: person.email,
        timeZone: person.timeZone,
        birthDate: dayOfDate(person.birthDate),
        program: { id: program.id as ProgramId, name: program.name, timeZone: program.timeZone },
        guardians: person.guardians.flatMap(({ guardian }) => reached(guardian)),
        leads: program.memberships.flatMap((one) => reached(one.person)),
      },
    ];
  });
}

const reached = ({ id, email }: { id: string; email: string | null }): Reached[] =>
  email ? [{ personId: id, email }] : [];

/** The audit's word for a birthday after which other rules hold. */
export const TURNED_ACTION = { 13: 'age.turned-13', 18: 'age.turned-18' } as const satisfies Record<
  TurningAge,
  string
>;

/** Whether this birthday was told before in the program. Locks the player: of two workers at once one tells. */
export async function wasTold(
  _system: System,
  tx: Tx,
  { playerId, programId, age }: { playerId: PersonId; programId: ProgramId; age: TurningAge },
): Promise<boolean> {
  await db(tx).$queryRaw`SELECT 1 FROM "Person" WHERE id = ${playerId}::uuid FOR UPDATE`;
  const subject = `person:${playerId}`;
  return (await db(tx).auditEntry.count({ where: { programId, subject, action: TURNED_ACTION[age] } })) > 0;
}
