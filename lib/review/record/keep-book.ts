import { sentenceOfTrouble, type PartSender } from './part-sender';
import { sentenceOf } from './record-faults';
import type { RecordServer } from './session-state';
import type { TakeBook } from './take-book';

/** The server may find parts missing that it once had; so often they are sent again. */
const MOST_TRIES = 3;

/**
 * Sends what is left of a breakdown and has it joined on the server. Answers null when that is done, else the sentence
 * for the coach; in both cases everything is still in this browser.
 */
export const keepBook = async (
  book: TakeBook,
  sender: PartSender,
  server: Pick<RecordServer, 'keep'>,
): Promise<string | null> => {
  const { breakdownId } = book;
  sender.retry();
  try {
    for (let tries = 0; tries < MOST_TRIES; tries += 1) {
      if (!(await sender.settled())) {
        const { trouble } = sender.getSnapshot();
        return trouble ? sentenceOfTrouble(trouble) : sentenceOf('not-sent');
      }
      const answer = await server.keep({ breakdownId, recipe: book.recipe, parts: book.partsUsed() });
      if (answer.is === 'refused') return answer.sentence;
      if (answer.is === 'kept') {
        await book.noteKept();
        return null;
      }
      book.sendAgain(answer.missing);
    }
    return sentenceOf('not-sent');
  } catch {
    return sentenceOf('not-sent');
  }
};
