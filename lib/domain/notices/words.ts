import { format } from 'date-fns';
import { CHOICE_WORDS } from '../consents/consent';
import type { Day } from '../people/age';
import type { NoticeBody } from './notice';

/** What is said of a notice: one sentence for the list and the subject of its mail, more for the mail, and where it leads. */
export interface NoticeWords {
  title: string;
  lines: string[];
  action: string;
}

const dayWords = (day: Day): string => format(`${day}T00:00`, 'd MMMM yyyy');

/** A notice in words. The same for the list and the mail; no clip, question, note or measure of a player is ever in it. */
export function noticeWords(notice: NoticeBody): NoticeWords {
  switch (notice.kind) {
    case 'lesson-submitted': {
      const { playerName, lessonNumber, programName } = notice.data;
      return {
        title: `${playerName}: lesson ${lessonNumber} is sent`,
        lines: [
          `Lesson ${lessonNumber} for ${playerName} has reached ${programName}.`,
          'The time it is promised by stands on the page.',
        ],
        action: 'Open it',
      };
    }
    case 'lesson-taken': {
      const { playerName, lessonNumber, coachName } = notice.data;
      return {
        title: `${playerName}: ${coachName} has begun on lesson ${lessonNumber}`,
        lines: [`${coachName} is looking at the swing. The time it is promised by stands on the page.`],
        action: 'Open the lesson',
      };
    }
    case 'lesson-given': {
      const { playerName, lessonNumber, byName } = notice.data;
      return {
        title: `${byName} handed you lesson ${lessonNumber} for ${playerName}`,
        lines: ['It stands on your desk now, with the time it is promised by.'],
        action: 'Open the desk',
      };
    }
    case 'promise-moved': {
      const { playerName, lessonNumber, programName } = notice.data;
      return {
        title: `Lesson ${lessonNumber} for ${playerName} is promised for another time`,
        lines: [`${programName} moved it. The new time, and why, stand on the page of the lesson.`],
        action: 'Open the lesson',
      };
    }
    case 'lesson-returned': {
      const { playerName, lessonNumber, coachName } = notice.data;
      return {
        title: `${playerName}: lesson ${lessonNumber} is back`,
        lines: [`${coachName} has looked at the swing and says what to fix first.`],
        action: 'Read the lesson',
      };
    }
    case 'lesson-withdrawn': {
      const { playerName, lessonNumber } = notice.data;
      return {
        title: `${playerName}: lesson ${lessonNumber} was withdrawn`,
        lines: [
          `Lesson ${lessonNumber} for ${playerName} was taken back before it was returned. Nothing is left to do.`,
        ],
        action: 'Open it',
      };
    }
    case 'reply': {
      const { authorName, playerName, lessonNumber } = notice.data;
      return {
        title: `${authorName} wrote on lesson ${lessonNumber} for ${playerName}`,
        lines: [`There is a new reply on lesson ${lessonNumber}. It can be read and answered on the site.`],
        action: 'Read the reply',
      };
    }
    case 'breakdown-given': {
      const { coachName, playerName, lessonNumber } = notice.data;
      return {
        title: `${playerName}: another breakdown for lesson ${lessonNumber}`,
        lines: [`${coachName} has recorded another breakdown of the swing.`],
        action: 'Watch it',
      };
    }
    case 'captions-asked': {
      const { authorName, playerName, lessonNumber } = notice.data;
      return {
        title: `${authorName} asks for captions on lesson ${lessonNumber} for ${playerName}`,
        lines: [
          `${authorName} would like to read what is said in the breakdown of lesson ${lessonNumber}.`,
          'Captions are written on the page of the lesson, beside the breakdown.',
        ],
        action: 'Write the captions',
      };
    }
    case 'clip-failed': {
      const { playerName, reason } = notice.data;
      return {
        title: `A clip of ${playerName} needs another try`,
        lines: [reason],
        action: 'Open the lesson',
      };
    }
    case 'drill-clip-failed': {
      const { drillTitle, reason } = notice.data;
      return {
        title: `The clip of ${drillTitle} needs another try`,
        lines: [reason],
        action: 'Open the drills',
      };
    }
    case 'swing-asked': {
      const { playerName, lessonNumber, swingBy } = notice.data;
      return {
        title: `${playerName}: a next swing is asked for by ${dayWords(swingBy)}`,
        lines: [`Lesson ${lessonNumber} asks for a swing that shows what was practised.`],
        action: 'Open the lesson',
      };
    }
    case 'swing-overdue': {
      const { playerName, lessonNumber, swingBy } = notice.data;
      return {
        title: `${playerName}: the swing asked for by ${dayWords(swingBy)} has not come`,
        lines: [
          `Lesson ${lessonNumber} asked for it. It can still be sent, whenever it suits; nothing is lost by it.`,
        ],
        action: 'Open the lesson',
      };
    }
    case 'promise-near': {
      const { playerName, lessonNumber } = notice.data;
      return {
        title: `Lesson ${lessonNumber} for ${playerName} is promised soon`,
        lines: ['It is not returned yet. The time it is promised by stands on the desk.'],
        action: 'Open the lesson',
      };
    }
    case 'promise-missed': {
      const { playerName, lessonNumber, programName } = notice.data;
      return {
        title: `Lesson ${lessonNumber} for ${playerName} is later than promised`,
        lines: [`It is still at ${programName}. The coaches know of it; nobody has to ask.`],
        action: 'Open the lesson',
      };
    }
    case 'payment-due': {
      const { programName, dueOn, isLate } = notice.data;
      return {
        title: isLate
          ? `A payment to ${programName} was due on ${dayWords(dueOn)}`
          : `A payment to ${programName} is due on ${dayWords(dueOn)}`,
        lines: [
          'What is owed and how to pay stand on the billing page. What was returned stays readable.',
          'If it was paid already, there is nothing to do: the program still has to write it down.',
        ],
        action: 'See what is owed',
      };
    }
    case 'document-ready': {
      const { programName, documentName } = notice.data;
      return {
        title: `${documentName} from ${programName}`,
        lines: [
          `${documentName} is ready. It can be read and kept as a PDF on the site, with what is owed and how to pay.`,
        ],
        action: 'See it',
      };
    }
    case 'consent-expiring': {
      const { playerName, scope, endsOn } = notice.data;
      const what = scope === 'lessons' ? 'to lessons' : `“${CHOICE_WORDS[scope].title}”`;
      return {
        title: `The consent ${what} for ${playerName} ends on ${dayWords(endsOn)}`,
        lines: [
          scope === 'lessons'
            ? 'From that day the program cannot write to the player until it is given again.'
            : 'From that day it counts as a no until it is given again.',
          'It is given again, or left to end, on the page of consents. Only a guardian, or a player of age, can.',
        ],
        action: 'See the consents',
      };
    }
    case 'pain-reported': {
      const { playerName, lessonNumber } = notice.data;
      return {
        title: `${playerName} reported pain with lesson ${lessonNumber}`,
        lines: [
          `${playerName} said that swinging hurts. Please stop hitting until it is looked at.`,
          'Pain that comes with swinging, or stays, is for a clinician to judge. Cagepost and your coach cannot.',
        ],
        action: 'Open the lesson',
      };
    }
    case 'contact-paused': {
      const { playerName } = notice.data;
      return {
        title: `A guardian of ${playerName} paused contact`,
        lines: [
          'From now on no adult of the program can write to this player. What was returned stays readable.',
          'Only a guardian can take the pause back. Please do not reach out to the player in another way.',
        ],
        action: 'Open the lessons',
      };
    }
    case 'erasure-asked': {
      const { programName, personName, on } = notice.data;
      return {
        title: `Everything about ${personName} will be erased on ${dayWords(on)}`,
        lines: [
          `Somebody who may speak for ${personName} asked ${programName} for it. Until that day it can be taken back.`,
        ],
        action: 'See it',
      };
    }
    case 'erasure-cancelled': {
      const { programName, personName } = notice.data;
      return {
        title: `Nothing about ${personName} will be erased`,
        lines: [`The request to ${programName} was taken back. Everything is as it was.`],
        action: 'See it',
      };
    }
    case 'copy-ready': {
      const { personName } = notice.data;
      return {
        title: `The file with everything about ${personName} is ready`,
        lines: ['It can be fetched for 24 hours. Keep it where only you can open it.'],
        action: 'Fetch it',
      };
    }
    case 'concern-raised': {
      const { programName } = notice.data;
      return {
        title: `A concern was raised at ${programName}`,
        lines: [
          'Somebody raised a concern. Read it today; what they wrote stands on the site only.',
          'If somebody may be in danger, call the authorities where you are.',
        ],
        action: 'Read it',
      };
    }
    case 'age-turned': {
      const { programName, playerName, age } = notice.data;
      return {
        title: `${playerName} is ${age}: what changes at ${programName}`,
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
        action: 'Open the lessons',
      };
    }
  }
}
