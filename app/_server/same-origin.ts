import { env } from '@/lib/platform/env';
import { CagepostError } from '@/lib/domain/shared/errors';

type HeaderBag = { get(name: string): string | null };

/**
 * Refuses a change that another site's page asked for. For route handlers and `pages/api`; server actions are checked
 * by Next itself. Browsers say where a request comes from in `Sec-Fetch-Site`, older ones in `Origin`; a change that
 * says neither is refused.
 */
export function assertSameOrigin(headers: HeaderBag): void {
  const site = headers.get('sec-fetch-site');
  const origin = headers.get('origin');
  const isOurs = site ? site === 'same-origin' : origin === new URL(env.NEXTAUTH_URL).origin;
  if (isOurs) return;
  throw new CagepostError('not-found', 'This page cannot be used from another site. Nothing was changed.', {
    site,
    hasOrigin: origin !== null,
  });
}
