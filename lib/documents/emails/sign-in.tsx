import { Text } from '@react-email/components';
import { render } from '@react-email/render';
import type { ComposedMail } from '../compose-mail';
import { MailFrame } from '../mail-frame';

/** The mail that carries a sign-in link. `minutes` is how long it stays good. */
export async function composeSignInMail({
  url,
  minutes,
}: {
  url: string;
  minutes: number;
}): Promise<ComposedMail> {
  const subject = 'Your sign-in link for Cagepost';
  const lines = [
    `You asked for a link to sign in with. It works once, and for ${minutes} minutes.`,
    'If you did not ask for it, do nothing: nobody gets in without this mail. Please do not pass it on.',
  ];
  const html = await render(
    <MailFrame title={subject} action={{ label: 'Sign in', href: url }}>
      {lines.map((line) => (
        <Text key={line} style={{ fontSize: '16px', lineHeight: '26px', color: '#1D2729' }}>
          {line}
        </Text>
      ))}
    </MailFrame>,
  );
  const text = [subject, ...lines, `Sign in: ${url}`, 'Sent by Cagepost.'].join('\n\n');
  return { subject, text, html };
}
