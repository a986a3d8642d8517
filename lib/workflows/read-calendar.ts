import { listPromisedTimes } from '@/lib/data/calendar.system';
import { composeCalendar } from '@/lib/documents/calendar';
import type { System } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** The calendar behind a secret address. Refuses one that was replaced, ended, or never was. */
export async function readCalendar(
  { clock }: Pick<Ports, 'clock'>,
  system: System,
  { secret, siteUrl }: { secret: string; siteUrl: string },
): Promise<string> {
  const now = clock.now();
  const times = await listPromisedTimes(system, secret, now);
  if (!times) throw notFound('calendar');
  return composeCalendar(times, siteUrl, now);
}
