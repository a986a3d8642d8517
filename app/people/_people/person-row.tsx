import Link from 'next/link';
import type { ReactNode } from 'react';
import { Pennant } from '@/app/_ui/pennant';
import type { PersonCard } from '@/lib/data/people-lists.read';
import { ageOn, type Day } from '@/lib/domain/people/age';
import { CONTACT_REASON, isMinor, staffContact } from '@/lib/domain/people/safeguarding';
import type { Role } from '@/lib/domain/people/viewer';

export const ROLE_WORD = {
  player: 'Player',
  guardian: 'Guardian',
  coach: 'Coach',
  lead: 'Lead',
} as const satisfies Record<Role, string>;

type Props = {
  person: PersonCard;
  today: Day;
  /** A button for each guardian who waits to be confirmed; null for people who may not. */
  confirmButton: ((guardianId: string) => ReactNode) | null;
  /** Whether the viewer may open the page about consents. */
  careLink: boolean;
  /** The checks of somebody of the staff. */
  clearances: ReactNode;
  /** Buttons that change staff roles. */
  roleButtons: ReactNode;
};

/** One person of the program: roles, age of a player, guardians of a minor and what is missing. */
export const PersonRow = ({ person, today, confirmButton, careLink, clearances, roleButtons }: Props) => {
  const { personId, name, email, roles, birthDate, guardians } = person;
  const isPlayer = roles.includes('player');
  const isYoung = isPlayer && isMinor(person, today);
  const contact = isPlayer ? staffContact(person, guardians, today) : 'open';
  return (
    <li className="stack tight">
      <div className="acts">
        <h3>{isPlayer ? <Link href={`/players/${personId}`}>{name}</Link> : name}</h3>
        <span className="soft">
          {roles.map((role) => ROLE_WORD[role]).join(', ')}
          {isPlayer && birthDate && `, ${ageOn(birthDate, today)}`}
        </span>
      </div>
      {email && <p className="small soft">{email}</p>}
      {isYoung && guardians.length > 0 && (
        <ul className="small">
          {guardians.map((guardian) => (
            <li key={guardian.personId} className="acts">
              <span>
                {guardian.isVerified ? 'Guardian: ' : 'Named as guardian: '}
                {guardian.name}
              </span>
              {!guardian.isVerified && confirmButton?.(guardian.personId)}
            </li>
          ))}
        </ul>
      )}
      {contact === 'no-guardian' && (
        <div className="acts">
          <Pennant>No guardian yet: nobody can write to {name}</Pennant>
          <Link className="btn small" href={`/people?guardian=${personId}#invite`}>
            Invite a guardian<span className="sr"> for {name}</span>
          </Link>
        </div>
      )}
      {contact === 'paused' && <Pennant>A guardian has paused contact</Pennant>}
      {(contact === 'withdrawn' || contact === 'no-consent') && <Pennant>{CONTACT_REASON[contact]}</Pennant>}
      {careLink && isYoung && (
        <p className="small">
          <Link href={`/players/${personId}/care`}>
            Consent, and who saw what<span className="sr"> of {name}</span>
          </Link>
        </p>
      )}
      {clearances}
      {roleButtons}
    </li>
  );
};
