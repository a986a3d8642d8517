import type { Patience } from '../upload/patience';
import { createPartSender, type PartSender, type SendPart } from './part-sender';
import { sentenceOf } from './record-faults';
import type { RecordServer, RecordSnapshot } from './session-state';
import { TakeBook } from './take-book';
import type { KeptBreakdown, TakeStore } from './take-store';

export interface BookParts {
  takes: TakeStore;
  server: Pick<RecordServer, 'begin'>;
  send?: SendPart | undefined;
  patience?: Patience | undefined;
  hasVoice: () => boolean;
  /** Told how sending and keeping go. */
  say: (change: Partial<RecordSnapshot>) => void;
}

/** A breakdown with the sender of its parts; one that is `left` behind is read from the browser's store first. */
export const openBook = async (
  kept: KeptBreakdown,
  parts: BookParts,
  isLeft: boolean,
): Promise<{ book: TakeBook; sender: PartSender }> => {
  const { breakdownId } = kept;
  const sender = createPartSender({
    breakdownId,
    begin: () => parts.server.begin({ breakdownId, hasVoice: parts.hasVoice() }),
    ...(parts.send && { send: parts.send }),
    ...(parts.patience && { patience: parts.patience }),
    onSent: (segmentId, number) => void parts.takes.noteSent(segmentId, number),
  });
  sender.subscribe(() => {
    const { made, sent, trouble } = sender.getSnapshot();
    parts.say({ partsMade: made, partsSent: sent, trouble });
  });
  const onKeeping = (keeping: TakeBook['keeping']) =>
    parts.say({ warning: sentenceOf(keeping === 'full' ? 'full' : 'nothing-kept') });
  const book = isLeft
    ? await TakeBook.takeUp(kept, parts.takes, sender, onKeeping)
    : new TakeBook(kept, parts.takes, sender, onKeeping);
  return { book, sender };
};
