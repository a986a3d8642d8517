import { writeAudit } from '@/lib/data/audit.write';
import { endOwnSessions } from '@/lib/data/people.write';
import { dropSignInLinks } from '@/lib/data/sign-in.system';
import { transaction } from '@/lib/data/transaction';
import type { System, Viewer } from '@/lib/domain/people/viewer';

/**
 * Ends every session and open sign-in link of the viewer, on every device. Returns the session version that the
 * present device goes on with, if it is to.
 */
export async function endSessions(viewer: Viewer, system: System): Promise<{ sessionVersion: number }> {
  const sessionVersion = await transaction(viewer, async (tx) => {
    await dropSignInLinks(system, tx, viewer.personId);
    const version = await endOwnSessions(viewer, tx);
    await writeAudit(viewer, tx, { action: 'sessions.ended', subject: `person:${viewer.personId}` });
    return version;
  });
  return { sessionVersion };
}
