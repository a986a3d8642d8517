import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { RateHint } from './rate-hint';

/** A clip kept in the browser until the server has it, so that neither a reload nor a killed browser loses it. */
export interface KeptClip {
  clipId: string;
  /** Whose it is: on a shared phone nobody sends another person's clip. */
  personId: string;
  /** Null for the clip of a drill. */
  lessonId: string | null;
  fileName: string;
  file: File;
  print?: string | undefined;
  rateHint: RateHint | null;
  addedAt: number;
  isPaused: boolean;
}

interface UploadsDb extends DBSchema {
  clips: { key: string; value: KeptClip; indexes: { personId: string } };
}

/** How keeping went: `full` when the browser has no room left, `unavailable` where it keeps nothing at all. */
export type Keeping = 'kept' | 'full' | 'unavailable';

export interface FileStore {
  put(clip: KeptClip): Promise<Keeping>;
  get(clipId: string): Promise<KeptClip | null>;
  remove(clipId: string): Promise<void>;
  /** Clips of one person in the order they were added. */
  all(personId: string): Promise<KeptClip[]>;
  close(): void;
}

/** The store in IndexedDB. Where IndexedDB is missing or forbidden everything answers as if it were empty. */
export const openFileStore = (name = 'cagepost-uploads'): FileStore => {
  let opening: Promise<IDBPDatabase<UploadsDb> | null> | null = null;
  const open = () =>
    (opening ??= openDB<UploadsDb>(name, 1, {
      upgrade: (db) => {
        db.createObjectStore('clips', { keyPath: 'clipId' }).createIndex('personId', 'personId');
      },
    }).catch(() => null));

  return {
    async put(clip) {
      const db = await open();
      if (!db) return 'unavailable';
      try {
        // Strict: after it is done a killed browser or phone finds it.
        const tx = db.transaction('clips', 'readwrite', { durability: 'strict' });
        await Promise.all([tx.store.put(clip), tx.done]);
        return 'kept';
      } catch (error) {
        return error instanceof DOMException && error.name === 'QuotaExceededError' ? 'full' : 'unavailable';
      }
    },
    async get(clipId) {
      const db = await open();
      return (await db?.get('clips', clipId).catch(() => undefined)) ?? null;
    },
    async remove(clipId) {
      const db = await open();
      await db?.delete('clips', clipId).catch(() => {});
    },
    async all(personId) {
      const db = await open();
      const found = (await db?.getAllFromIndex('clips', 'personId', personId).catch(() => [])) ?? [];
      return found.sort((a, b) => a.addedAt - b.addedAt);
    },
    close: () => void open().then((db) => db?.close()),
  };
};
