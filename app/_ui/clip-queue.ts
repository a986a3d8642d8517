import { openFileStore, type FileStore } from '@/lib/review/upload/file-store';
import { createUploadQueue, type UploadQueue } from '@/lib/review/upload/upload-queue';

export interface ClipQueue {
  queue: UploadQueue;
  store: FileStore;
}

let made: { personId: string; clips: ClipQueue } | null = null;

/**
 * The one upload queue of this page, for the person who is signed in: it lives across moves between pages, and
 * carries on with what an earlier page left. Browser only.
 */
export const clipQueue = (personId: string): ClipQueue => {
  if (made?.personId === personId) return made.clips;
  made?.clips.queue.dispose();
  const store = openFileStore();
  const queue = createUploadQueue({ personId, store });
  void queue.restore();
  made = { personId, clips: { queue, store } };
  return made.clips;
};
