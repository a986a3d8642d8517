import { listNearAges, TURNED_ACTION, wasTold, type NearAge } from '@/lib/data/ages.system';
import { writeSystemAudit } from '@/lib/data/audit.write';
import { transaction } from '@/lib/data/transaction';
import { afterQuietHours } from '@/lib/domain/notices/quiet-hours';
import { dayIn } from '@/lib/domain/people/age';
import { turnedLately, type TurningAge } from '@/lib/domain/people/turning';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';
import { tell } from './tell';

/**
 * Tells both sides that a player has turned 13 or 18, once for each program: the player, the guardians and the leads.
 * The rules themselves follow the birth date on the program's own day, so that nothing waits for this. Answers how many
 * birthdays were told.
 */
export async function turnAges(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  system: System,
): Promise<number> {
  const now = clock.now();
  let told = 0;
  for (const near of await listNearAges(system, now)) {
    const age = turnedLately(near.birthDate, dayIn(near.program.timeZone, now));
    if (age && (await tellAll({ queue }, system, near, age, now))) told += 1;
  }
  return told;
}

async function tellAll(
  { queue }: Pick<Ports, 'queue'>,
  system: System,
  near: NearAge,
  age: TurningAge,
  now: Date,
): Promise<boolean> {
  const { playerId, program } = near;
  return transaction(system, async (tx) => {
    if (await wasTold(system, tx, { playerId, programId: program.id, age })) return false;
    const data = { programName: program.name, playerName: near.name, age, path: `/players/${playerId}` };
    const waking = afterQuietHours(now, program.timeZone);
    const own = { at: afterQuietHours(now, near.timeZone ?? program.timeZone) };
    await tell(
      system,
      tx,
      { kind: 'age-turned', data },
      {
        programId: program.id,
        playerId,
        to: [
          ...[...near.guardians, ...near.leads].map((one) => ({ ...one, at: waking })),
          ...(near.email ? [{ personId: playerId, email: near.email, ...own }] : []),
        ],
        now,
        once: `${playerId} ${program.id} ${age}`,
      },
    );
    await writeSystemAudit(system, tx, program.id, {
      action: TURNED_ACTION[age],
      subject: `person:${playerId}`,
    });
    await queue.drainOutbox(tx);
    return true;
  });
}
