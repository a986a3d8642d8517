import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { ClipHere, Going } from './send-types';

type Known = {
  here: ClipHere | undefined;
  /** What the upload queue of this browser says, if it knows the clip. */
  queued: Going | undefined;
  /** What the program said when the page was opened. */
  stored: ClipFacts | undefined;
  /** The file waits on this device for the queue. */
  hasFile: boolean;
};

/** Where a clip is on its way, from all who know something: the cut first, then this browser's queue, then the program. */
export const goingOf = ({ here, queued, stored, hasFile }: Known): Going => {
  if (here?.isHeld && hasFile) return { kind: 'held' };
  if (queued) return queued;
  if (stored?.state === 'failed' && stored.fault) {
    return {
      kind: 'failed',
      reason: factsOfFault(stored.fault).forPeople,
      canRetry: false,
      needsFile: false,
    };
  }
  if (stored && stored.state !== 'expected' && stored.state !== 'uploading') return { kind: 'stored' };
  return hasFile ? { kind: 'waiting' } : { kind: 'elsewhere' };
};
