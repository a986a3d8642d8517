import { writeAudit } from '@/lib/data/audit.write';
import { readAccount } from '@/lib/data/people.read';
import { forgetExpectedChild } from '@/lib/data/invitations.write';
import { addChild as keepChild, type Child } from '@/lib/data/people.write';
import { transaction } from '@/lib/data/transaction';
import { ageOn, dayIn } from '@/lib/domain/people/age';
import { ADULT_AGE, CONSENT_VERSION } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { InvitationId, PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Adds a child whose profile the viewer, a guardian, holds: no e-mail, no password, a thread of its own, and the
 * guardian's consent with its version. Sending the same child twice adds it once. `invitationId`: the accepted
 * invitation in which the program named the child.
 */
export async function addChild(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  child: Child & { hasConsented: boolean; invitationId?: InvitationId | undefined },
): Promise<{ playerId: PersonId }> {
  const now = clock.now();
  const { program } = await readAccount(viewer);
  const age = ageOn(child.birthDate, dayIn(program.timeZone, now));
  if (age < 0) throw new CagepostError('invalid', 'That birth date lies ahead. Look at the year again.');
  if (age >= ADULT_AGE) {
    throw new CagepostError(
      'invalid',
      'From 18 on a player has an account of their own. Ask the program to invite them. The rest is kept.',
    );
  }
  if (!child.hasConsented) {
    throw new CagepostError('invalid', 'Please read what you agree to, and tick it. The rest is kept.');
  }
  const { id, name, birthDate, bats, invitationId } = child;
  await transaction(viewer, async (tx) => {
    if (!(await keepChild(viewer, tx, { id, name, birthDate, bats }, now))) return;
    await writeAudit(viewer, tx, {
      action: 'child.added',
      subject: `person:${id}`,
      data: { consentVersion: CONSENT_VERSION, method: 'added-child' },
    });
    if (invitationId) await forgetExpectedChild(viewer, tx, invitationId);
  });
  return { playerId: id };
}
