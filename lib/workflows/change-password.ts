import { writeAudit } from '@/lib/data/audit.write';
import { readAccount, readOwnPassword } from '@/lib/data/people.read';
import { setOwnPassword } from '@/lib/data/people.write';
import { dropSignInLinks } from '@/lib/data/sign-in.system';
import { transaction } from '@/lib/data/transaction';
import { wordsOf } from '@/lib/domain/people/password';
import type { System, Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Passwords } from './ports';

/**
 * Sets a new password and ends every session and open sign-in link of the viewer. The old password is asked for unless
 * there is none or the viewer has just come in by a link from their own mail. Returns the session version that the
 * present device goes on with.
 */
export async function changePassword(
  { passwords }: { passwords: Passwords },
  viewer: Viewer,
  system: System,
  given: { oldPassword: string; newPassword: string; isFreshFromLink: boolean },
): Promise<{ sessionVersion: number }> {
  const account = await readAccount(viewer);
  if (account.isDemo) {
    throw new CagepostError(
      'wrong-state',
      'Demo people keep the way in that they have. Nothing was changed.',
    );
  }
  const words = wordsOf(
    account.name,
    account.email ?? '',
    account.program.name,
    'cagepost',
    'baseball',
    'softball',
  );
  if (passwords.isGuessable(given.newPassword, words)) {
    throw new CagepostError(
      'invalid',
      'That password is one of the first that others would try. Choose another; the old one still holds.',
    );
  }
  const passwordHash = await passwords.hash(given.newPassword);
  const sessionVersion = await transaction(viewer, async (tx) => {
    const kept = await readOwnPassword(viewer, tx);
    const mayChange = given.isFreshFromLink || !kept || (await passwords.matches(kept, given.oldPassword));
    if (!mayChange) {
      throw new CagepostError('invalid', 'The present password is not right. Nothing was changed.');
    }
    await dropSignInLinks(system, tx, viewer.personId);
    const version = await setOwnPassword(viewer, tx, passwordHash);
    await writeAudit(viewer, tx, { action: 'password.changed', subject: `person:${viewer.personId}` });
    return version;
  });
  return { sessionVersion };
}
