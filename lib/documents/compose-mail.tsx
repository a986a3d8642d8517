import { Text } from '@react-email/components';
import { render } from '@react-email/render';
import type { MailBody } from '@/lib/domain/notices/mail';
import { MailFrame } from './mail-frame';

/** A mail ready to leave. */
export interface ComposedMail {
  subject: string;
  text: string;
  html: string;
}

interface Words {
  subject: string;
  lines: string[];
  action: { label: string; path: string };
}

/** What each kind of mail says. No clip, question or note of a player is ever in it. */
function wordsOf(mail: MailBody): Words {
  switch (mail.kind) {
    case 'invitation': {
      const { inviter, programName, role, days, path } = mail.data;
      return {
        subject: `${inviter} invites you to ${programName}`,
        lines: [
          `${inviter} would like you to join ${programName} on Cagepost as a ${role}.`,
          `The link works once and for ${days} days. If you did not expect it, do nothing.`,
        ],
        action: { label: 'See the invitation', path },
      };
    }
    case 'lesson-submitted': {
      const { playerName, lessonNumber, programName, path } = mail.data;
      return {
        subject: `${playerName}: lesson ${lessonNumber} is sent`,
        lines: [
          `Lesson ${lessonNumber} for ${playerName} has reached ${programName}.`,
          'The time it is promised by stands on the page.',
        ],
        action: { label: 'Open it', path },
      };
    }
    case 'lesson-returned': {
      const { playerName, lessonNumber, coachName, path } = mail.data;
      return {
        subject: `${playerName}: lesson ${lessonNumber} is back`,
        lines: [`${coachName} has looked at the swing and says what to fix first.`],
        action: { label: 'Read the lesson', path },
      };
    }
    case 'lesson-withdrawn': {
      const { playerName, lessonNumber, path } = mail.data;
      return {
        subject: `${playerName}: lesson ${lessonNumber} was withdrawn`,
        lines: [
          `Lesson ${lessonNumber} for ${playerName} was taken back before it was returned. Nothing is left to do.`,
        ],
        action: { label: 'Open it', path },
      };
    }
    case 'reply': {
      const { authorName, playerName, lessonNumber, path } = mail.data;
      return {
        subject: `${authorName} wrote on lesson ${lessonNumber} for ${playerName}`,
        lines: [`There is a new reply on lesson ${lessonNumber}. It can be read and answered on the site.`],
        action: { label: 'Read the reply', path },
      };
    }
    case 'age-turned': {
      const { programName, playerName, age, path } = mail.data;
      return {
        subject: `${playerName} is ${age}: what changes at ${programName}`,
        lines:
          age === 18
            ? [
                `From today ${playerName} speaks for themselves. The lessons are theirs alone: guardians no longer see them or answer for them.`,
                'What guardians had agreed to counts no more. The choices about showing and sharing are off until the player turns them on.',
              ]
            : [
                `From today ${playerName} may have a login of their own. The program invites them if a guardian asks for it.`,
                'Guardians stay on the thread, see everything, and can pause contact as before.',
              ],
        action: { label: 'Open the lessons', path },
      };
    }
    case 'concern-raised': {
      const { programName, path } = mail.data;
      return {
        subject: `A concern was raised at ${programName}`,
        lines: [
          'Somebody raised a concern. Read it today; what they wrote stands on the site only.',
          'If somebody may be in danger, call the authorities where you are.',
        ],
        action: { label: 'Read it', path },
      };
    }
    case 'breakdown-given': {
      const { coachName, playerName, lessonNumber, path } = mail.data;
      return {
        subject: `${playerName}: another breakdown for lesson ${lessonNumber}`,
        lines: [`${coachName} has recorded another breakdown of the swing.`],
        action: { label: 'Watch it', path },
      };
    }
    case 'captions-asked': {
      const { authorName, playerName, lessonNumber, path } = mail.data;
      return {
        subject: `${authorName} asks for captions on lesson ${lessonNumber} for ${playerName}`,
        lines: [
          `${authorName} would like to read what is said in the breakdown of lesson ${lessonNumber}.`,
          'Captions are written on the page of the lesson, beside the breakdown.',
        ],
        action: { label: 'Write the captions', path },
      };
    }
    case 'pain-reported': {
      const { playerName, lessonNumber, path } = mail.data;
      return {
        subject: `${playerName} reported pain with lesson ${lessonNumber}`,
        lines: [
          `${playerName} said that swinging hurts. Please stop hitting until it is looked at.`,
          'Pain that comes with swinging, or stays, is for a clinician to judge. Cagepost and your coach cannot.',
        ],
        action: { label: 'Open the lesson', path },
      };
    }
    case 'document-ready': {
      const { programName, documentName, path } = mail.data;
      return {
        subject: `${documentName} from ${programName}`,
        lines: [
          `${documentName} is ready. It can be read and kept as a PDF on the site, with what is owed and how to pay.`,
        ],
        action: { label: 'See it', path },
      };
    }
    case 'clip-failed': {
      const { playerName, reason, path } = mail.data;
      return {
        subject: `A clip of ${playerName} needs another try`,
        lines: [reason],
        action: { label: 'Open the lesson', path },
      };
    }
  }
}

/** Puts a mail into words, as HTML and as plain text, with links below `siteUrl`. */
export async function composeMail(mail: MailBody, siteUrl: string): Promise<ComposedMail> {
  const { subject, lines, action } = wordsOf(mail);
  const href = new URL(action.path, siteUrl).toString();
  const html = await render(
    <MailFrame title={subject} programName={mail.data.programName} action={{ label: action.label, href }}>
      {lines.map((line) => (
        <Text key={line} style={{ fontSize: '16px', lineHeight: '26px', color: '#1D2729' }}>
          {line}
        </Text>
      ))}
    </MailFrame>,
  );
  const text = [
    subject,
    ...lines,
    `${action.label}: ${href}`,
    `Sent by Cagepost for ${mail.data.programName}.`,
  ].join('\n\n');
  return { subject, text, html };
}
