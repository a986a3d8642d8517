import { ripeStrays, unwantedOf } from '@/lib/data/stored-files.system';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

const AT_ONCE = 1000;

/**
 * Holds every file of the storage against the rows: files of what was removed go, files without any row go once they
 * were found a second time, a day later. Keys of a shape that nobody here knows are left alone. Answers how many went.
 */
export async function sweepStrays(
  { clock, log, storage }: Pick<Ports, 'clock' | 'log' | 'storage'>,
  system: System,
): Promise<number> {
  const now = clock.now();
  const keys = await storage.list('');
  const gone: string[] = [];
  const stray: string[] = [];
  for (let at = 0; at < keys.length; at += AT_ONCE) {
    const found = await unwantedOf(system, keys.slice(at, at + AT_ONCE), now);
    gone.push(...found.gone);
    stray.push(...found.stray);
  }
  const going = [...gone, ...(await ripeStrays(system, stray, now))];
  for (const key of going) await storage.remove(key);
  if (going.length > 0) log.info({ removed: going.length }, 'files that belonged to nothing are gone');
  return going.length;
}
