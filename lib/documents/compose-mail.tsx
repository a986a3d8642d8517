import type { MailBody } from '@/lib/domain/notices/mail';
import { invitationLetter } from './emails/invitation';
import { Act, letter, Line, Paper, SmallLine, type Letter } from './emails/letter';

type LessonMail = Exclude<MailBody, { kind: 'invitation' }>;

interface Words {
  subject: string;
  lines: string[];
  action: { label: string; path: string };
}

/** What each kind of mail about a lesson says. No clip, question or note of a player is ever in it. */
function wordsOf(mail: LessonMail): Words {
  switch (mail.kind) {
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
export async function composeMail(mail: MailBody, siteUrl: string): Promise<Letter> {
  if (mail.kind === 'invitation') {
    const { path, ...facts } = mail.data;
    return invitationLetter({ ...facts, url: new URL(path, siteUrl).toString() });
  }
  const { subject, lines, action } = wordsOf(mail);
  return letter(
    subject,
    <Paper title={subject} preview={lines[0] ?? subject}>
      {lines.map((line) => (
        <Line key={line}>{line}</Line>
      ))}
      <Act href={new URL(action.path, siteUrl).toString()}>{action.label}</Act>
      <SmallLine>
        Sent by Cagepost for {mail.data.programName}. Clips and notes stay on the site; they are never in a
        mail.
      </SmallLine>
    </Paper>,
  );
}
