import { redirect } from 'next/navigation';
import { cache } from 'react';
import { SESSION } from '@/lib/auth/session';
import type { LiveSession } from '@/lib/auth/viewer';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import { keepSession, sessionOfRequest } from './session';

/** The live session of this request, looked up once; null without one. */
export const getSession = cache(sessionOfRequest);

/** Who is asking, in pages, server actions and route handlers of `app/`; null for nobody. */
export const getViewer = async (): Promise<Viewer | null> => (await getSession())?.viewer ?? null;

/**
 * The viewer of a page; people without a session are sent to sign in and come back to `back` (a path of this site).
 * Call it in the page, never only in a layout: a layout does not run again on every move between its pages.
 */
export async function requireViewer(back?: string): Promise<Viewer> {
  const session = await getSession();
  if (session?.viewer) return session.viewer;
  if (session) redirect('/sign-in?why=no-program');
  redirect(back ? `/sign-in?next=${encodeURIComponent(back)}` : '/sign-in');
}

/** True when the session cookie is old enough to be renewed by this visit. */
export const isDueForRenewal = ({ claims }: LiveSession, now: Date): boolean =>
  claims.iat !== undefined && claims.iat + SESSION.renewAfter < now.getTime() / 1000;

/** The viewer of an action or route handler, whose session it renews when due; throws `not-signed-in` without one. */
export async function viewerOrRefuse(): Promise<Viewer> {
  const session = await getSession();
  if (!session?.viewer) {
    throw new CagepostError(
      'not-signed-in',
      'You are not signed in any more. Sign in again; what you wrote is kept.',
    );
  }
  if (isDueForRenewal(session, new Date())) await keepSession(session.claims);
  return session.viewer;
}
