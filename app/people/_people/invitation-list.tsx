import type { ReactNode } from 'react';
import { Moment } from '@/app/_ui/moment';
import type { InvitationCard } from '@/lib/data/invitations.read';
import { ROLE_WORD } from './person-row';

const STATE_WORDS = {
  open: 'Waiting to be accepted',
  used: 'Accepted',
  withdrawn: 'Taken back or closed',
  expired: 'Ran out',
} as const;

type Props = {
  invitations: InvitationCard[];
  now: Date;
  timeZone: string;
  withdrawButton: (invitation: InvitationCard) => ReactNode;
};

/** Invitations, newest first, with where each stands. */
export const InvitationList = ({ invitations, now, timeZone, withdrawButton }: Props) => (
  <ul className="ruled">
    {invitations.map((invitation) => (
      <li key={invitation.id} className="stack tight">
        <p>
          {invitation.name}, {ROLE_WORD[invitation.role].toLowerCase()}
          {invitation.playerName && ` of ${invitation.playerName}`}
        </p>
        <p className="small soft">
          {invitation.email}. {STATE_WORDS[invitation.state]}
          {invitation.state === 'open' && (
            <>
              , until <Moment at={invitation.expiresAt} now={now} timeZone={timeZone} as="day" />
            </>
          )}
        </p>
        {invitation.state === 'open' && invitation.mayWithdraw && withdrawButton(invitation)}
      </li>
    ))}
  </ul>
);
