import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import * as z from 'zod';
import { CagepostError } from '@/lib/domain/shared/errors';
import { sendRemark, type SpokenRemark } from './spoken-remark';

/** A spoken remark that lies in this browser until the server has its voice. */
export interface UnsentRemark {
  readonly id: string;
  readonly seriesId: string;
  /** Whose it is: on a shared computer nobody is offered another person's voice. */
  readonly personId: string;
  readonly title: string;
  readonly text: string;
  /** ISO instant at which it was kept here. */
  readonly keptAt: string;
  readonly voice: ArrayBuffer;
  readonly voiceType: string;
  readonly durationMs: number;
}

interface RemarksDb extends DBSchema {
  unsent: { key: string; value: UnsentRemark; indexes: { personId: string } };
}

// What lies in a browser is as little trusted as what comes over the wire.
const unsentSchema = z.object({
  id: z.uuid(),
  seriesId: z.uuid(),
  personId: z.string(),
  title: z.string().min(1),
  text: z.string(),
  keptAt: z.iso.datetime(),
  voice: z.instanceof(ArrayBuffer).refine((voice) => voice.byteLength > 0),
  voiceType: z.string(),
  durationMs: z.int().positive(),
});

export interface UnsentRemarks {
  /** Writes one down; false when this browser has no room or keeps nothing. */
  keep(remark: UnsentRemark): Promise<boolean>;
  /** Those of a person, oldest first. */
  list(personId: string): Promise<UnsentRemark[]>;
  remove(id: string): Promise<void>;
  close(): void;
}

/** The store in IndexedDB. Where that is missing or forbidden, it answers as if it were empty. */
export const openUnsentRemarks = (name = 'cagepost-remarks'): UnsentRemarks => {
  let opening: Promise<IDBPDatabase<RemarksDb> | null> | null = null;
  const open = () =>
    (opening ??= openDB<RemarksDb>(name, 1, {
      upgrade: (db) =>
        void db.createObjectStore('unsent', { keyPath: 'id' }).createIndex('personId', 'personId'),
      terminated: () => {
        opening = null;
      },
    }).catch(() => null));
  return {
    async keep(remark) {
      const db = await open();
      if (!db) return false;
      try {
        const tx = db.transaction('unsent', 'readwrite', { durability: 'strict' });
        await Promise.all([tx.store.put(remark), tx.done]);
        return true;
      } catch {
        return false;
      }
    },
    async list(personId) {
      const rows: unknown[] =
        (await (await open())?.getAllFromIndex('unsent', 'personId', personId).catch(() => [])) ?? [];
      return rows
        .flatMap((row) => unsentSchema.safeParse(row).data ?? [])
        .sort((a, b) => a.keptAt.localeCompare(b.keptAt));
    },
    async remove(id) {
      await (await open())?.delete('unsent', id).catch(() => undefined);
    },
    close: () => void open().then((db) => db?.close()),
  };
};

/** The voice of one, as the recorder gave it. */
export const spokenOf = ({ voice, voiceType, durationMs }: UnsentRemark): SpokenRemark => ({
  voice: new Uint8Array(voice),
  voiceType,
  durationMs,
});

/** Puts a remark on the shelf; the same again changes nothing. Null when the server could not be reached. */
export type PutOnShelf = (remark: UnsentRemark) => Promise<{ ok: boolean; message?: string } | null>;

const WAITS = 'It is kept on this device and sent when you come back to your shelf.';

/**
 * Puts a remark on the shelf and sends its voice; only then it goes from this browser. Answers null when the server has
 * all of it, else the sentence for the coach.
 */
export const sendUnsent = async (
  store: Pick<UnsentRemarks, 'remove'>,
  remark: UnsentRemark,
  putOnShelf: PutOnShelf,
  send: typeof sendRemark = sendRemark,
): Promise<string | null> => {
  const answer = await putOnShelf(remark).catch(() => null);
  if (!answer) return `The connection is lost. ${WAITS}`;
  if (!answer.ok) return answer.message ?? `The shelf did not take it. ${WAITS}`;
  try {
    await send(remark.id, spokenOf(remark), new AbortController().signal);
  } catch (error) {
    return error instanceof CagepostError ? error.forPeople : `The voice could not be sent. ${WAITS}`;
  }
  await store.remove(remark.id);
  return null;
};
