import { PATIENCE, type Patience } from '@/lib/review/upload/patience';
import { createSendClip } from '@/lib/review/upload/send-clip';
import { createUploadQueue, type UploadQueue } from '@/lib/review/upload/upload-queue';

// The page of the bench: the program's own queue, and a bare PUT to compare with.

const PERSON = '0197a000-0000-7000-8000-00000000000a';
document.cookie = `person=${PERSON}; path=/`;

let queue: UploadQueue | null = null;
const files = new Map<string, File>();

/** Starts the queue as a page does when it opens; answers how many clips it carries on with. */
const begin = (patience: Partial<Patience>) => {
  queue = createUploadQueue({ personId: PERSON, patience: { ...PATIENCE, ...patience } });
  return queue.restore();
};

const fileAt = async (url: string): Promise<File> => {
  const known = files.get(url);
  if (known) return known;
  const blob = await (await fetch(url)).blob();
  const file = new File([blob], 'swing.mov', { type: 'video/quicktime' });
  files.set(url, file);
  return file;
};

const add = async (url: string, clipId: string) =>
  queue?.add(await fileAt(url), { clipId, lessonId: clipId });

const entry = (clipId: string) => queue?.getSnapshot().entries.find((one) => one.clipId === clipId) ?? null;

const timed = async (work: () => Promise<unknown>): Promise<number> => {
  const start = performance.now();
  await work();
  return performance.now() - start;
};

/** Milliseconds of a bare PUT of the file. */
const rawPut = async (url: string, to: string) => {
  const file = await fileAt(url);
  return timed(
    () =>
      new Promise<void>((resolve, reject) => {
        const request = new XMLHttpRequest();
        request.open('PUT', to);
        request.onload = () =>
          request.status === 200 ? resolve() : reject(new Error(String(request.status)));
        request.onerror = () => reject(new Error('raw PUT failed'));
        request.send(file);
      }),
  );
};

/** Milliseconds of the same file through the SDK, from the claim to the answer that it is kept. */
const sdkPut = async (url: string, clipId: string) => {
  const file = await fileAt(url);
  const send = createSendClip();
  return timed(() => send(file, { clipId, signal: new AbortController().signal, onProgress: () => {} }));
};

const bench = { begin, add, entry, rawPut, sdkPut };
export type BenchPage = typeof bench;
Object.assign(window, { bench });
