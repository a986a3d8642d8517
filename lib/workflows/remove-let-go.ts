import { listLetGo, noteGone } from '@/lib/data/stored-files.system';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

const AT_ONCE = 200;

/**
 * Removes the files that rows have let go of. A prefix is crossed off only once nothing is left under it, so that a
 * crash between rows and files, or in the middle of a folder, leaves the rest for the next run. Answers how many
 * prefixes went; one that the storage refuses stays for the next run and does not hold up the others.
 */
export async function removeLetGo(
  { storage, log }: Pick<Ports, 'storage' | 'log'>,
  system: System,
): Promise<number> {
  let removed = 0;
  const refused = new Set<string>();
  for (;;) {
    const prefixes = (await listLetGo(system, AT_ONCE + refused.size)).filter((one) => !refused.has(one));
    if (prefixes.length === 0) break;
    for (const prefix of prefixes) {
      try {
        await storage.remove(prefix);
        await noteGone(system, prefix);
        removed += 1;
      } catch (error) {
        log.error({ prefix, err: error }, 'files that have to go could not be removed; tried again later');
        refused.add(prefix);
      }
    }
  }
  return removed;
}
