import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import type { PersonId } from '@/lib/domain/shared/ids';
import { inspectFile } from '@/lib/review/upload/inspect-file';
import { trimClip } from '@/lib/review/upload/trim-clip';
import { clipQueue } from '@/app/_ui/clip-queue';
import type { ClipTools, Look } from './clip-sender';
import { queueSender } from './queue-sender';

// What the program takes by default; the server has the last word.
const LIMITS = { maxBytes: 1024 ** 3, maxSeconds: 180 };
/** Over this rate the file itself shows that it was taken fast, and nobody has to be asked. */
const SURELY_FAST = 100;

const look = async (file: File): Promise<Look> => {
  const found = await inspectFile(file, LIMITS);
  const isTooMuch = found.fault === 'too-long' || found.fault === 'too-large';
  if (found.fault && !(isTooMuch && found.durationS)) {
    return { ok: false, reason: factsOfFault(found.fault).forPeople };
  }
  const isFast = (found.fileRate ?? 0) > SURELY_FAST;
  return {
    ok: true,
    seconds: found.durationS ?? 0,
    fileRate: found.fileRate,
    isRateOpen: found.rateHint?.captureRate == null && !isFast,
    isTooLong: isTooMuch,
    // What the file tells of its camera is blanked with the location before it is sent.
    captureRate: found.rateHint?.captureRate ?? null,
    focal35mm: found.focal35mm,
  };
};

const cut = (file: Blob, name: string, startSeconds: number, endSeconds: number) =>
  trimClip(
    file instanceof File ? file : new File([file], name, { type: file.type }),
    startSeconds,
    endSeconds,
  );

let made: { personId: PersonId; tools: ClipTools } | null = null;

/** The browser's engine behind the form, for one signed-in person: the same one as long as the page lives. */
export const clipTools = (personId: PersonId): ClipTools => {
  if (made?.personId === personId) return made.tools;
  made = { personId, tools: { sender: queueSender(clipQueue(personId)), look, cut } };
  return made.tools;
};
