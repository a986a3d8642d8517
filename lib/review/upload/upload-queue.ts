import { MAX_CLIPS } from '@/lib/domain/clips/clip';
import { CagepostError } from '@/lib/domain/shared/errors';
import { openFileStore, type FileStore, type KeptClip } from './file-store';
import { openClip } from './inspect-file';
import { PaceMeter } from './pace';
import { PATIENCE, sendWatched, waitBefore, type Patience } from './patience';
import { readRateHint } from './rate-hint';
import { scrubLocation } from './scrub-location';
import { createSendClip, printOf, SendFailure, type SendClip } from './send-clip';
import type { UploadEntry, UploadSnapshot } from './upload-entry';
import { factsOfUploadFault, type UploadFault } from './upload-faults';

export interface UploadQueueOptions {
  /** Who is signed in; only this person's clips are carried on. */
  personId: string;
  send?: SendClip;
  store?: FileStore;
  patience?: Patience;
  /** Clips that travel at the same time. */
  atOnce?: number;
  now?: () => number;
  chance?: () => number;
}

export interface UploadQueue {
  getSnapshot(): UploadSnapshot;
  subscribe(listener: () => void): () => void;
  /** Carries on with what an earlier page or a killed browser left. Answers how many clips it found. */
  restore(): Promise<number>;
  /**
   * Takes a picked file: blanks its location, keeps a safety copy, sends it. Answers when it is in line. Throws
   * `too-many` when the lesson has all the clips it takes; the clip of a drill has no lesson.
   */
  add(file: File, of: { clipId: string; lessonId: string | null }): Promise<void>;
  pause(clipId: string): void;
  resume(clipId: string): void;
  /** Tries a failed clip again. With a file (picked again) it goes on from where the server is. */
  retry(clipId: string, file?: File): void;
  /** Stops and forgets a clip, its safety copy included. The server is told by the page. */
  remove(clipId: string): Promise<void>;
  dispose(): void;
}

interface Item extends KeptClip {
  entry: UploadEntry;
  failures: number;
  pace: PaceMeter;
  running: AbortController | null;
  timer: ReturnType<typeof setTimeout> | undefined;
}

const QUIET = { bytesPerSecond: null, secondsLeft: null } as const;
const UNFAULTED = { fault: null, sentence: null, canRetry: false } as const;

/** Where the browser has locks, one tab at a time sends a clip; a killed tab sets it free. */
const alone = <T>(clipId: string, signal: AbortSignal, work: () => Promise<T>): Promise<T> =>
  navigator.locks ? navigator.locks.request(`cagepost-upload-${clipId}`, { signal }, work) : work();

const isReadable = (file: Blob) =>
  file
    .slice(0, 1)
    .arrayBuffer()
    .then(
      () => true,
      () => false,
    );

const rateHintOf = async (file: File) => {
  const input = openClip(file);
  try {
    return await readRateHint(input);
  } catch {
    return null;
  } finally {
    input.dispose();
  }
};

/** The clips of one person on their way from this browser. One queue a page; `dispose` when the page goes. */
export const createUploadQueue = (options: UploadQueueOptions): UploadQueue => {
  const send = options.send ?? createSendClip();
  const store = options.store ?? openFileStore();
  const patience = options.patience ?? PATIENCE;
  const now = options.now ?? (() => performance.now());
  const chance = options.chance ?? Math.random;
  const items = new Map<string, Item>();
  const listeners = new Set<() => void>();
  let snapshot: UploadSnapshot = { entries: [] };
  let isDisposed = false;

  const publish = () => {
    snapshot = { entries: [...items.values()].map((item) => item.entry) };
    for (const listener of listeners) listener();
  };
  const show = (item: Item, change: Partial<UploadEntry>) => {
    item.entry = { ...item.entry, ...change };
    if (items.get(item.clipId) === item) publish();
  };

  const line = (clip: KeptClip, safetyCopy: UploadEntry['safetyCopy']): Item => {
    const { clipId, lessonId, fileName, file, rateHint } = clip;
    const item: Item = {
      ...clip,
      failures: 0,
      pace: new PaceMeter(),
      running: null,
      timer: undefined,
      entry: {
        ...{ clipId, lessonId, fileName, sizeBytes: file.size, rateHint, safetyCopy, sentBytes: 0 },
        state: clip.isPaused ? 'paused' : 'waiting',
        ...QUIET,
        ...UNFAULTED,
      },
    };
    items.set(clipId, item);
    return item;
  };

  const keep = async (item: Item) => {
    const { clipId, personId, lessonId, fileName, file, print, rateHint, addedAt, isPaused } = item;
    const keeping = await store.put({
      clipId,
      personId,
      lessonId,
      fileName,
      file,
      print,
      rateHint,
      addedAt,
      isPaused,
    });
    const isOver = items.get(clipId) !== item || item.entry.state === 'stored';
    // It was sent or removed while the copy was being written.
    if (isOver) await store.remove(clipId);
    else show(item, { safetyCopy: keeping });
  };

  const fail = (item: Item, fault: UploadFault) => {
    const { sentence, canRetry } = factsOfUploadFault(fault);
    show(item, { state: 'failed', ...QUIET, fault, sentence, canRetry });
    // A file that will never be taken needs no copy.
    if (!canRetry) void store.remove(item.clipId);
  };

  const awaitNextTry = (item: Item) => {
    item.failures++;
    show(item, { state: 'retrying', ...QUIET });
    item.timer = setTimeout(() => lineUp(item), waitBefore(item.failures, patience, chance()));
  };

  const lineUp = (item: Item) => {
    clearTimeout(item.timer);
    if (isDisposed || item.running || items.get(item.clipId) !== item) return;
    show(item, { state: 'waiting', ...UNFAULTED });
    pump();
  };

  const noteProgress = (item: Item, sentBytes: number) => {
    // Progress proves that the network is back: the next wait is short again.
    if (sentBytes > item.entry.sentBytes) item.failures = 0;
    item.pace.note(now(), sentBytes);
    show(item, { sentBytes, ...item.pace.paceTo(item.file.size) });
  };

  const afterFailure = async (item: Item, error: unknown) => {
    if (error instanceof SendFailure && error.fault) return fail(item, error.fault);
    if (await isReadable(item.file)) return awaitNextTry(item);
    // The phone took the picked file back; the safety copy is as good.
    const kept = await store.get(item.clipId);
    if (!kept || !(await isReadable(kept.file))) return fail(item, 'file-gone');
    item.file = kept.file;
    awaitNextTry(item);
  };

  const run = async (item: Item) => {
    const { clipId, print } = item;
    const running = new AbortController();
    item.running = running;
    item.pace.reset();
    show(item, { state: 'uploading', ...UNFAULTED });
    try {
      await alone(clipId, running.signal, () => {
        const onProgress = (sentBytes: number) => noteProgress(item, sentBytes);
        return sendWatched(send, item.file, { clipId, print, signal: running.signal, onProgress }, patience);
      });
      show(item, { state: 'stored', sentBytes: item.file.size, ...QUIET, safetyCopy: 'not-needed' });
      await store.remove(clipId);
    } catch (error) {
      if (!running.signal.aborted) await afterFailure(item, error);
    } finally {
      if (item.running === running) item.running = null;
      pump();
    }
  };

  /** Starts what may start: those that failed least go first, so that one that keeps failing holds up nobody. */
  const pump = () => {
    const all = [...items.values()];
    const free = (options.atOnce ?? 2) - all.filter((item) => item.running).length;
    if (isDisposed || free <= 0) return;
    const waiting = all.filter((item) => item.entry.state === 'waiting' && !item.running);
    waiting.sort((a, b) => a.failures - b.failures || a.addedAt - b.addedAt);
    for (const item of waiting.slice(0, free)) void run(item);
  };

  const stop = (item: Item) => {
    clearTimeout(item.timer);
    item.running?.abort(new DOMException('Stopped by the sender', 'AbortError'));
    item.running = null;
  };

  const wake = () => {
    for (const item of items.values()) if (item.entry.state === 'retrying') lineUp(item);
  };
  const wakeWhenSeen = () => {
    if (document.visibilityState === 'visible') wake();
  };
  addEventListener('online', wake);
  document.addEventListener('visibilitychange', wakeWhenSeen);

  return {
    getSnapshot: () => snapshot,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },

    async restore() {
      const kept = (await store.all(options.personId)).filter((clip) => !items.has(clip.clipId));
      for (const clip of kept) line(clip, 'kept');
      publish();
      pump();
      return kept.length;
    },

    async add(picked, { clipId, lessonId }) {
      const ofLesson = [...items.values()].filter((item) => item.lessonId === lessonId);
      if (lessonId !== null && ofLesson.length >= MAX_CLIPS)
        throw new CagepostError('too-many', factsOfUploadFault('too-many-clips').sentence, { lessonId });
      const rateHint = await rateHintOf(picked);
      const { file } = await scrubLocation(picked);
      const fileName = picked.name;
      const clip = { clipId, lessonId, fileName, file, rateHint, personId: options.personId };
      const item = line(
        { ...clip, print: await printOf(file), addedAt: Date.now(), isPaused: false },
        'writing',
      );
      publish();
      void keep(item);
      pump();
    },

    pause(clipId) {
      const item = items.get(clipId);
      if (!item || item.entry.state === 'stored' || item.entry.state === 'failed') return;
      stop(item);
      item.isPaused = true;
      show(item, { state: 'paused', ...QUIET });
      if (item.entry.safetyCopy === 'kept') void keep(item);
      pump();
    },

    resume(clipId) {
      const item = items.get(clipId);
      if (item?.entry.state !== 'paused') return;
      item.isPaused = false;
      if (item.entry.safetyCopy === 'kept') void keep(item);
      lineUp(item);
    },

    retry(clipId, picked) {
      const item = items.get(clipId);
      if (!item || (item.entry.state !== 'failed' && item.entry.state !== 'retrying')) return;
      item.failures = 0;
      if (!picked) return lineUp(item);
      void scrubLocation(picked).then(async ({ file }) => {
        item.file = file;
        item.print = await printOf(file);
        show(item, { sizeBytes: file.size });
        void keep(item);
        lineUp(item);
      });
    },

    async remove(clipId) {
      const item = items.get(clipId);
      items.delete(clipId);
      if (item) stop(item);
      publish();
      await store.remove(clipId);
      pump();
    },

    dispose() {
      isDisposed = true;
      for (const item of items.values()) stop(item);
      removeEventListener('online', wake);
      document.removeEventListener('visibilitychange', wakeWhenSeen);
      listeners.clear();
    },
  };
};
