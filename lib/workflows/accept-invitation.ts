import { invitationEnds, invitationMail } from './invitation-mail';
import { writeSystemAudit } from '@/lib/data/audit.write';
import {
  closeInvitation,
  createInvitedPerson,
  findInvitation,
  inviteGuardianOf,
  joinProgram,
  keepBirthDate,
  standBeside,
  takeInvitation,
  type InvitationFacts,
} from '@/lib/data/invitations.system';
import { queueMail } from '@/lib/data/outbox.write';
import { transaction, type Tx } from '@/lib/data/transaction';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { invitationState } from '@/lib/domain/people/invitation';
import { wordsOf } from '@/lib/domain/people/password';
import { isMinor, mayHaveLogin } from '@/lib/domain/people/safeguarding';
import type { System } from '@/lib/domain/people/viewer';
import type { AuditAction } from '@/lib/domain/shared/audit-words';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { InvitationId, PersonId, ProgramId } from '@/lib/domain/shared/ids';
import type { Passwords, Ports } from './ports';

/** Who accepts: somebody new with a name and a password, or the signed-in owner of the invited address. */
export type Accepting =
  | { kind: 'new'; name: string; password: string; birthDate: Day | null; hasConsented: boolean }
  | { kind: 'known'; personId: PersonId; birthDate: Day | null; hasConsented: boolean };

const invalid = (words: string) => new CagepostError('invalid', `${words} The rest is kept.`);

/**
 * Accepts an invitation: makes the account if there is none, gives the place in the program, and puts a guardian beside
 * their player. Under 13 nobody gets a login: the invitation is closed, so that another date cannot be tried, and
 * nothing of the child is kept. A birth date that the program wrote goes before what the player says; a minor's
 * guardian whom it named is invited now. Throws `not-found` for every link that is not open.
 */
export async function acceptInvitation(
  { clock, ids, queue, passwords }: Pick<Ports, 'clock' | 'ids' | 'queue'> & { passwords: Passwords },
  system: System,
  { token, who }: { token: string; who: Accepting },
): Promise<{ personId: PersonId; programId: ProgramId }> {
  const now = clock.now();
  // Slow on purpose, and so outside the transaction.
  const passwordHash = who.kind === 'new' ? await passwords.hash(who.password) : '';

  const outcome = await transaction(system, async (tx) => {
    const invitation = await findInvitation(system, token, tx);
    if (!invitation || invitationState(invitation, now) !== 'open') throw notFound('invitation');
    const today = dayIn(invitation.timeZone, now);
    assertRightPerson(invitation, who);
    assertAnswers(invitation, who, today, passwords);
    const birthDate = birthDateOf(invitation, who);
    if (invitation.role === 'player' && !mayHaveLogin({ birthDate }, today)) {
      await closeInvitation(system, tx, invitation.id, now);
      await audit(invitation, tx, 'invitation.needs-guardian', `invitation:${invitation.id}`);
      return 'needs-guardian';
    }
    if (!(await takeInvitation(system, tx, invitation.id, now))) throw notFound('invitation');
    const personId = await thePerson(invitation, tx);
    const { programId, role } = invitation;
    await joinProgram(system, tx, { programId, personId, role });
    if (invitation.role === 'guardian' && invitation.player) {
      await standBeside(system, tx, {
        programId,
        guardianId: personId,
        playerId: invitation.player.personId,
        method: invitation.isNamedByPlayer ? 'named-by-player' : 'program-invitation',
        verifiedAt: invitation.isNamedByPlayer ? null : now,
      });
    }
    await audit(invitation, tx, 'invitation.accepted', `person:${personId}`);
    if (role === 'player' && isMinor({ birthDate }, today)) await callGuardian(invitation, tx, personId);
    return { personId, programId };
  });

  if (outcome !== 'needs-guardian') return outcome;
  throw new CagepostError(
    'safeguarding',
    'A parent or guardian holds the profile for this player. Ask the program to invite them; it can see that this ' +
      'invitation was closed. If the birth date was a slip, ask for a new invitation. Nothing you wrote was kept.',
  );

  async function thePerson(invitation: InvitationFacts, tx: Tx): Promise<PersonId> {
    const birthDate = invitation.role === 'player' ? birthDateOf(invitation, who) : null;
    if (who.kind === 'known') {
      if (birthDate) await keepBirthDate(system, tx, who.personId, birthDate);
      return who.personId;
    }
    const id = ids.uuid() as PersonId;
    await createInvitedPerson(system, tx, {
      id,
      name: who.name,
      email: invitation.email,
      birthDate,
      passwordHash,
    });
    return id;
  }

  async function callGuardian(invitation: InvitationFacts, tx: Tx, playerId: PersonId): Promise<void> {
    const { guardian, programId, programName, inviterName: inviter, createdById } = invitation;
    if (!guardian) return;
    const [id, token] = [ids.uuid() as InvitationId, ids.token()];
    const expiresAt = invitationEnds(now);
    const place = { id, programId, playerId, createdById };
    await inviteGuardianOf(system, tx, { ...place, ...guardian, token, expiresAt, at: now });
    const facts = { token, role: 'guardian', programName, inviter } as const;
    await queueMail(system, tx, invitationMail(guardian.email, facts, now));
    await audit({ ...invitation, id, role: 'guardian' }, tx, 'invitation.sent', `invitation:${id}`);
    await queue.drainOutbox(tx);
  }

  function audit({ id, programId, role }: InvitationFacts, tx: Tx, action: AuditAction, subject: string) {
    return writeSystemAudit(system, tx, programId, { action, subject, data: { invitationId: id, role } });
  }
}

/** What the account holds, then what the program wrote, then what the player says. */
const birthDateOf = (invitation: InvitationFacts, who: Accepting): Day | null =>
  invitation.account?.birthDate ?? invitation.birthDate ?? who.birthDate;

/** An invited address that has an account is accepted by its owner, signed in; any other makes a new account. */
function assertRightPerson(invitation: InvitationFacts, who: Accepting): void {
  if (who.kind === 'known') {
    if (invitation.account?.personId !== who.personId) throw notFound('invitation');
    if (invitation.player?.personId === who.personId) throw invalid('Nobody can be their own guardian.');
    return;
  }
  if (!invitation.account) return;
  throw new CagepostError(
    'wrong-state',
    'You already have an account under this address. Sign in first, then open the invitation again.',
  );
}

function assertAnswers(invitation: InvitationFacts, who: Accepting, today: Day, passwords: Passwords): void {
  if (invitation.role === 'player' && !invitation.account?.birthDate && !invitation.birthDate) {
    if (!who.birthDate) throw invalid('Write the birth date.');
    if (who.birthDate > today || who.birthDate < '1900-01-01') {
      throw invalid('That birth date cannot be right. Look at the year again.');
    }
  }
  if (invitation.role === 'guardian') {
    if (!who.hasConsented) throw invalid('Please read what you agree to, and tick it.');
    const known = invitation.account?.birthDate;
    if (known && isMinor({ birthDate: known }, today)) {
      throw new CagepostError('safeguarding', 'A guardian is 18 or older. Nothing was changed.');
    }
  }
  if (who.kind === 'known') return;
  const words = wordsOf(
    who.name,
    invitation.email,
    invitation.programName,
    'cagepost',
    'baseball',
    'softball',
  );
  if (passwords.isGuessable(who.password, words)) {
    throw invalid('That password is one of the first that others would try. Choose another.');
  }
}
