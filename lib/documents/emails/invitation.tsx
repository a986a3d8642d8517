import { Act, letter, Line, Paper, SmallLine, type Letter } from './letter';

/** What an invitation mail tells. No child is named in it: who it is about stands behind the link. */
export interface InvitationLetterFacts {
  programName: string;
  inviter: string;
  role: string;
  url: string;
  days: number;
}

const AS: Record<string, string> = {
  player: 'send in swings and get hitting lessons back',
  guardian: 'stand beside a player as parent or guardian, and see every lesson and every word',
  coach: 'coach hitters',
};

/** The mail that carries an invitation link. `days` is how long it stays good. */
export const invitationLetter = (facts: InvitationLetterFacts): Promise<Letter> =>
  letter(
    `${facts.programName} invites you to Cagepost`,
    <Paper title={`${facts.programName} invites you`} preview={`${facts.inviter} sent this invitation.`}>
      <Line>
        {facts.inviter} invites you to join {facts.programName} on Cagepost, to{' '}
        {AS[facts.role] ?? 'take part'}.
      </Line>
      <Act href={facts.url}>Look at the invitation</Act>
      <SmallLine>
        The link is for you alone. It works once, and for {facts.days} days. If you were not expecting it, do
        nothing and it will lapse.
      </SmallLine>
    </Paper>,
  );
