import { Text } from '@react-email/components';
import { render } from '@react-email/render';
import type { MailBody } from '@/lib/domain/notices/mail';
import { noticeWords, type NoticeWords } from '@/lib/domain/notices/words';
import { MailFrame } from './mail-frame';

/** A mail ready to leave. */
export interface ComposedMail {
  subject: string;
  text: string;
  html: string;
}

/** What each kind of mail says. No clip, question or note of a player is ever in it. */
function wordsOf(mail: MailBody): NoticeWords {
  switch (mail.kind) {
    case 'invitation': {
      const { inviter, programName, role, days } = mail.data;
      return {
        title: `${inviter} invites you to ${programName}`,
        lines: [
          `${inviter} would like you to join ${programName} on Cagepost as a ${role}.`,
          `The link works once and for ${days} days. If you did not expect it, do nothing.`,
        ],
        action: 'See the invitation',
      };
    }
    case 'erased': {
      const { programName } = mail.data;
      return {
        title: `What ${programName} kept was erased`,
        lines: [
          `What was asked for is done: everything that ${programName} kept was erased.`,
          'Invoices and receipts keep their amounts, without a name.',
        ],
        action: 'To Cagepost',
      };
    }
    case 'digest': {
      const { programName, lines, more } = mail.data;
      const count = lines.length + more;
      return {
        title: count === 1 ? `One notice from ${programName}` : `${count} notices from ${programName}`,
        lines: [...lines, ...(more > 0 ? [`And ${more} more on the page of notices.`] : [])],
        action: 'See the notices',
      };
    }
    default:
      return noticeWords(mail);
  }
}

/** Where the reader chooses which mails come, and the address that ends this kind with one click, if it can be ended. */
export interface MailChoices {
  choicesUrl: string;
  stopUrl: string;
}

/** Puts a mail into words, as HTML and as plain text, with links below `siteUrl`. */
export async function composeMail(
  mail: MailBody,
  siteUrl: string,
  choices?: MailChoices,
): Promise<ComposedMail> {
  const { title, lines, action } = wordsOf(mail);
  const href = new URL(mail.data.path, siteUrl).toString();
  const html = await render(
    <MailFrame
      title={title}
      programName={mail.data.programName}
      action={{ label: action, href }}
      choices={choices}
    >
      {lines.map((line, index) => (
        <Text key={index} style={{ fontSize: '16px', lineHeight: '26px', color: '#1D2729' }}>
          {line}
        </Text>
      ))}
    </MailFrame>,
  );
  const text = [
    title,
    ...lines,
    `${action}: ${href}`,
    `Sent by Cagepost for ${mail.data.programName}.`,
    ...(choices
      ? [`Choose which mails come: ${choices.choicesUrl}`, `No more mails of this kind: ${choices.stopUrl}`]
      : []),
  ].join('\n\n');
  return { subject: title, text, html };
}
