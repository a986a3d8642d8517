import { endNight, listDeadlines, noteNight, type Night } from '@/lib/data/retention.system';
import { clearMedia, MEDIA_CLASSES, type MediaClass } from '@/lib/data/retention-media.system';
import { clearEverywhere, clearRows } from '@/lib/data/retention-rows.system';
import { transaction } from '@/lib/data/transaction';
import { dayIn } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import {
  addCounts,
  dueBefore,
  RETENTION_CLASSES,
  type Counts,
  type Deadlines,
  type RetentionClass,
} from '@/lib/domain/privacy/retention';
import type { ProgramId } from '@/lib/domain/shared/ids';
import { eraseDue } from './erase-due';
import type { Ports } from './ports';
import { removeLetGo } from './remove-let-go';
import { sweepStrays } from './sweep-strays';

type NightPorts = Pick<Ports, 'clock' | 'ids' | 'log' | 'storage' | 'queue'>;

/** So many things in one transaction: a night with much to do does not hold rows for long. */
const AT_ONCE = 100;
const PATIENCE_MS = 60_000;

const isMedia = (name: RetentionClass): name is MediaClass => MEDIA_CLASSES.some((one) => one === name);

/**
 * The night's work: in every program deletes what is due by its deadlines, erases who asked for it, then removes the
 * files that had to go, and those that belong to nothing. What a legal hold keeps stays. May be killed at any point and
 * run again, by several workers at once: what was done is not done twice, and every night has a journal. Answers what
 * was done, over all programs.
 */
export async function keepDeadlines(ports: NightPorts, system: System): Promise<Counts> {
  const { clock } = ports;
  const day = dayIn('UTC', clock.now());
  let total: Counts = {};
  for (const { programId, deadlines } of await listDeadlines(system)) {
    const night = { programId, day };
    await noteNight(system, undefined, night, {}, clock.now());
    total = addCounts(total, await clearProgram(ports, system, programId, deadlines, night));
    await endNight(system, night, clock.now());
  }
  const all: Night = { programId: null, day };
  const everywhere = await transaction(
    system,
    async (tx) => {
      const counts = await clearEverywhere(system, tx, clock.now());
      await noteNight(system, tx, all, counts, clock.now());
      return counts;
    },
    PATIENCE_MS,
  );
  const erased = await eraseDue(ports, system, day);
  await removeLetGo(ports, system);
  const strays = await sweepStrays(ports, system);
  await noteNight(system, undefined, all, { strays }, clock.now());
  await endNight(system, all, clock.now());
  return addCounts(addCounts(total, everywhere), { erased, strays });
}

async function clearProgram(
  { clock }: NightPorts,
  system: System,
  programId: ProgramId,
  deadlines: Deadlines,
  night: Night,
): Promise<Counts> {
  let counts: Counts = {};
  for (const name of RETENTION_CLASSES) {
    for (let cleared = AT_ONCE; cleared > 0;) {
      const now = clock.now();
      const due = { programId, now, before: dueBefore(now, deadlines[name]), take: AT_ONCE };
      cleared = await transaction(
        system,
        async (tx) => {
          const count = isMedia(name)
            ? await clearMedia(system, tx, name, due)
            : await clearRows(system, tx, name, due);
          if (count > 0) await noteNight(system, tx, night, { [name]: count }, now);
          return count;
        },
        PATIENCE_MS,
      );
      counts = addCounts(counts, { [name]: cleared });
    }
  }
  return counts;
}
