import type { ClipQueue } from '@/app/_ui/clip-queue';
import { SAFETY_COPY_FULL, type UploadEntry } from '@/lib/review/upload/upload-entry';
import type { ClipSender } from './clip-sender';
import { forgetFileHere } from './here-store';
import type { Going } from './send-types';

/** One entry of the queue as the form shows it. */
export const goingOfEntry = (entry: UploadEntry): Going => {
  const { sentBytes, sizeBytes: totalBytes, secondsLeft, fault, sentence, canRetry } = entry;
  switch (entry.state) {
    case 'waiting':
      return { kind: 'waiting' };
    case 'uploading': {
      const note =
        entry.safetyCopy === 'full' || entry.safetyCopy === 'unavailable' ? SAFETY_COPY_FULL : null;
      return { kind: 'sending', sentBytes, totalBytes, secondsLeft, note };
    }
    case 'retrying':
      return { kind: 'offline', sentBytes, totalBytes };
    case 'paused':
      return { kind: 'paused', sentBytes, totalBytes };
    case 'stored':
      return { kind: 'stored' };
    case 'failed':
      return {
        kind: 'failed',
        reason: sentence ?? 'It did not go through.',
        canRetry,
        needsFile: fault === 'file-gone' || fault === 'interrupted',
      };
    default:
      return entry.state satisfies never;
  }
};

/** The upload queue as the form's `ClipSender`. */
export const queueSender = ({ queue, store }: ClipQueue): ClipSender => {
  let seen = queue.getSnapshot();
  let byId: ReadonlyMap<string, Going> = new Map();
  const forgotten = new Set<string>();
  const read = (): ReadonlyMap<string, Going> => {
    const now = queue.getSnapshot();
    if (now === seen && byId.size === now.entries.length) return byId;
    seen = now;
    byId = new Map(now.entries.map((entry) => [entry.clipId, goingOfEntry(entry)]));
    return byId;
  };
  const forgetCopies = () => {
    // The form's own copy may go once the queue has a safe one, and not a moment before.
    for (const { clipId, safetyCopy } of queue.getSnapshot().entries) {
      if ((safetyCopy !== 'kept' && safetyCopy !== 'not-needed') || forgotten.has(clipId)) continue;
      forgotten.add(clipId);
      void forgetFileHere(clipId).catch(() => undefined);
    }
  };
  return {
    getSnapshot: read,
    subscribe: (listener) =>
      queue.subscribe(() => {
        forgetCopies();
        listener();
      }),
    add: ({ clipId, lessonId, file }) => queue.add(file, { clipId, lessonId }),
    fileOf: async (clipId) => (await store.get(clipId))?.file ?? null,
    pause: (clipId) => queue.pause(clipId),
    resume: (clipId) => queue.resume(clipId),
    retry: (clipId, file) => queue.retry(clipId, file),
    remove: (clipId) => queue.remove(clipId),
  };
};
