import { Act, letter, Line, Paper, SmallLine, type Letter } from './letter';

/** The mail that carries a sign-in link. `minutes` is how long it stays good. */
export const signInLetter = ({ url, minutes }: { url: string; minutes: number }): Promise<Letter> =>
  letter(
    'Your sign-in link for Cagepost',
    <Paper title="Sign in to Cagepost" preview={`The link works once, for ${minutes} minutes.`}>
      <Line>You asked for a link to sign in with. It works once, and for {minutes} minutes.</Line>
      <Act href={url}>Sign in</Act>
      <SmallLine>
        If you did not ask for it, do nothing: nobody gets in without this mail. Please do not pass the link
        on.
      </SmallLine>
    </Paper>,
  );
