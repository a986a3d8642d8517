import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import * as z from 'zod';
import { eventSchema, type BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { timelineClipSchema, type Piece, type Recipe } from '@/lib/domain/breakdowns/timeline';

/** One run of the recorder. */
export interface KeptTake {
  readonly segmentId: string;
  readonly kind: 'voice' | 'silent';
  /** Media type of the voice, "" without one. */
  readonly voiceType: string;
}

/** A breakdown that is being recorded in this browser, until the server has all of it. */
export interface KeptBreakdown {
  readonly breakdownId: string;
  readonly lessonId: string;
  /** Whose it is: on a shared computer nobody is offered another person's take. */
  readonly personId: string;
  /** ISO instant of its first take. */
  readonly startedAt: string;
  readonly clips: Recipe['clips'];
  readonly takes: readonly KeptTake[];
  /** What is used of the takes that are over; may be empty while the first one runs. */
  readonly pieces: readonly Piece[];
  /** The take that runs or ran last and is in no piece yet. */
  readonly openTake: string | null;
  /** The server takes no more parts of it; what is here is kept to be listened to until then. */
  readonly isSent: boolean;
}

/** Half a second of a take: its voice bytes and what was done meanwhile. Numbers count from 0 in each take. */
export interface KeptSlice {
  readonly segmentId: string;
  readonly number: number;
  readonly breakdownId: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly voice: ArrayBuffer | null;
  readonly events: readonly BreakdownEvent[];
}

/** How keeping went: `full` when the browser has no room left, `unavailable` where it keeps nothing at all. */
export type Keeping = 'kept' | 'full' | 'unavailable';

export interface TakeStore {
  /** Writes how a breakdown stands. */
  put(breakdown: KeptBreakdown): Promise<Keeping>;
  /** Writes voice and events of half a second in one transaction: both or neither. */
  append(slice: KeptSlice): Promise<Keeping>;
  /** The slices of a take in order; a gap ends it, because the voice behind a gap cannot be read. */
  slices(segmentId: string): Promise<KeptSlice[]>;
  noteSent(segmentId: string, number: number): Promise<void>;
  /** Numbers of the parts of a take that the server has. */
  sent(segmentId: string): Promise<ReadonlySet<number>>;
  /** Breakdowns of a person on a lesson, newest first. */
  find(lessonId: string, personId: string): Promise<KeptBreakdown[]>;
  /** Forgets a breakdown with all its takes. */
  remove(breakdownId: string): Promise<void>;
  close(): void;
}

interface TakesDb extends DBSchema {
  breakdowns: { key: string; value: KeptBreakdown; indexes: { lessonId: string } };
  slices: { key: [string, number]; value: KeptSlice; indexes: { breakdownId: string } };
  sent: { key: [string, number]; value: { segmentId: string; number: number } };
}

// What lies in a browser is as little trusted as what comes over the wire.
const keptSchema = z.object({
  breakdownId: z.uuid(),
  lessonId: z.string(),
  personId: z.string(),
  startedAt: z.iso.datetime(),
  clips: z.array(timelineClipSchema).min(1),
  takes: z.array(z.object({ segmentId: z.uuid(), kind: z.enum(['voice', 'silent']), voiceType: z.string() })),
  pieces: z.array(
    z.object({
      segmentId: z.uuid(),
      kind: z.enum(['voice', 'silent', 'remark']),
      fromMs: z.int().nonnegative(),
      toMs: z.int().positive(),
    }),
  ),
  openTake: z.uuid().nullable(),
  isSent: z.boolean(),
});
const eventsSchema = z.array(eventSchema);

const keepingOf = (error: unknown): Keeping =>
  error instanceof DOMException && error.name === 'QuotaExceededError' ? 'full' : 'unavailable';
const ofTake = (segmentId: string) => IDBKeyRange.bound([segmentId, 0], [segmentId, Infinity]);

/** The store in IndexedDB. Where that is missing or forbidden, everything answers as if it were empty. */
export const openTakeStore = (name = 'cagepost-takes'): TakeStore => {
  let opening: Promise<IDBPDatabase<TakesDb> | null> | null = null;
  const open = () =>
    (opening ??= openDB<TakesDb>(name, 1, {
      upgrade: (db) => {
        db.createObjectStore('breakdowns', { keyPath: 'breakdownId' }).createIndex('lessonId', 'lessonId');
        db.createObjectStore('slices', { keyPath: ['segmentId', 'number'] }).createIndex(
          'breakdownId',
          'breakdownId',
        );
        db.createObjectStore('sent', { keyPath: ['segmentId', 'number'] });
      },
      // The browser closed it (its data was cleared, its disk went away): the next write opens it anew.
      terminated: () => {
        opening = null;
      },
    }).catch(() => null));

  // Strict: once it is answered, a killed browser or a phone without power finds it.
  const write = async (work: (db: IDBPDatabase<TakesDb>) => Promise<unknown>): Promise<Keeping> => {
    const db = await open();
    if (!db) return 'unavailable';
    try {
      await work(db);
      return 'kept';
    } catch (error) {
      return keepingOf(error);
    }
  };

  return {
    put: (breakdown) =>
      write((db) => {
        const tx = db.transaction('breakdowns', 'readwrite', { durability: 'strict' });
        return Promise.all([tx.store.put(breakdown), tx.done]);
      }),
    append: (slice) =>
      write((db) => {
        const tx = db.transaction('slices', 'readwrite', { durability: 'strict' });
        return Promise.all([tx.store.put(slice), tx.done]);
      }),
    async slices(segmentId) {
      const rows = (await (await open())?.getAll('slices', ofTake(segmentId)).catch(() => [])) ?? [];
      const gap = rows.findIndex(
        (row, index) => row.number !== index || !eventsSchema.safeParse(row.events).success,
      );
      return gap === -1 ? rows : rows.slice(0, gap);
    },
    async noteSent(segmentId, number) {
      await write((db) => db.put('sent', { segmentId, number }));
    },
    async sent(segmentId) {
      const rows = (await (await open())?.getAll('sent', ofTake(segmentId)).catch(() => [])) ?? [];
      return new Set(rows.map((row) => row.number));
    },
    async find(lessonId, personId) {
      const rows: unknown[] =
        (await (await open())?.getAllFromIndex('breakdowns', 'lessonId', lessonId).catch(() => [])) ?? [];
      return rows
        .flatMap((row) => keptSchema.safeParse(row).data ?? [])
        .filter((row) => row.personId === personId)
        .sort((a, b) => b.startedAt.localeCompare(a.startedAt));
    },
    async remove(breakdownId) {
      await write(async (db) => {
        const tx = db.transaction(['breakdowns', 'slices', 'sent'], 'readwrite');
        const slices = await tx.objectStore('slices').index('breakdownId').getAllKeys(breakdownId);
        const takes = new Set(slices.map(([segmentId]) => segmentId));
        await Promise.all([
          tx.objectStore('breakdowns').delete(breakdownId),
          ...slices.map((key) => tx.objectStore('slices').delete(key)),
          ...[...takes].map((segmentId) => tx.objectStore('sent').delete(ofTake(segmentId))),
          tx.done,
        ]);
      });
    },
    close: () => void open().then((db) => db?.close()),
  };
};

const lockName = (lessonId: string, personId: string) => `cagepost-record-${lessonId}-${personId}`;

/**
 * Holds the right to record one lesson in this browser; null when another tab holds it. Let it go by calling the
 * answer; a killed tab lets it go by itself. Without Web Locks (an insecure page) it is always given.
 */
export const holdRecording = async (lessonId: string, personId: string): Promise<(() => void) | null> => {
  if (!navigator.locks) return () => undefined;
  return new Promise((resolve) => {
    void navigator.locks.request(lockName(lessonId, personId), { ifAvailable: true }, (lock) => {
      if (!lock) return resolve(null);
      return new Promise<void>((release) => resolve(() => release()));
    });
  });
};

/** Whether another tab of this browser records this lesson just now. */
export const recordsElsewhere = async (lessonId: string, personId: string): Promise<boolean> => {
  const locks = await navigator.locks?.query();
  return locks?.held?.some((lock) => lock.name === lockName(lessonId, personId)) ?? false;
};
