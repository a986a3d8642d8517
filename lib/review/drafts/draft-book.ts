import { openDB, type IDBPDatabase } from 'idb';
import * as z from 'zod';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import type { Sheet } from '@/lib/domain/review/sheet';

/** What one open bench has written and the server has not confirmed. */
export interface Draft {
  /** One per open bench, so that two tabs never write over each other. */
  readonly id: string;
  /** Whose and which lesson: nobody else's bench takes it up. */
  readonly owner: string;
  /** The sheet and revision that the writing grew from. */
  readonly base: Sheet;
  readonly baseRevision: number;
  readonly sheet: Sheet;
  /** What was sent without an answer, oldest first; the server may hold one of them already. */
  readonly sent: readonly Sheet[];
  /** ISO instant of the last edit. */
  readonly at: string;
}

/** Where drafts lie. A failing book must not stop the writing: the saver catches and tells. */
export interface DraftBook {
  keep(draft: Draft): Promise<void>;
  drop(id: string): Promise<void>;
  /** Drafts of an owner that no open bench holds any more, oldest first; they belong to the caller from then on. */
  claim(owner: string): Promise<Draft[]>;
  /** Marks the draft with this id as held by this bench until the returned function is called. */
  hold(id: string): () => void;
}

const envelopeSchema = z.object({
  id: z.string(),
  owner: z.string(),
  base: z.unknown(),
  baseRevision: z.int().nonnegative(),
  sheet: z.unknown(),
  sent: z.array(z.unknown()),
  at: z.iso.datetime(),
});

/** A draft as it lies in the browser is as little trusted as one from the network; null when it cannot be read. */
const parseDraft = (raw: unknown): Draft | null => {
  const envelope = envelopeSchema.safeParse(raw);
  if (!envelope.success) return null;
  try {
    const { base, sheet, sent, ...rest } = envelope.data;
    return { ...rest, base: parseSheet(base), sheet: parseSheet(sheet), sent: sent.map(parseSheet) };
  } catch {
    return null;
  }
};

const STORE = 'drafts';
const lockName = (id: string) => `cagepost-draft-${id}`;

/** The draft book in IndexedDB. Open benches are told apart by Web Locks, which end with their page however it ends. */
export const createDraftBook = (name = 'cagepost-drafts'): DraftBook => {
  let opening: Promise<IDBPDatabase> | null = null;
  const database = () => {
    opening ??= openDB(name, 1, {
      upgrade: (db) => void db.createObjectStore(STORE, { keyPath: 'id' }).createIndex('owner', 'owner'),
      terminated: () => {
        opening = null;
      },
    }).catch((error: unknown) => {
      opening = null;
      throw error;
    });
    return opening;
  };

  return {
    keep: async (draft) => void (await (await database()).put(STORE, draft)),
    drop: async (id) => (await database()).delete(STORE, id),
    claim: async (owner) => {
      const rows: unknown[] = await (await database()).getAllFromIndex(STORE, 'owner', owner);
      const locks = await navigator.locks?.query();
      const held = new Set(locks?.held?.map((lock) => lock.name));
      return rows
        .map(parseDraft)
        .filter((draft) => draft !== null)
        .filter((draft) => !held.has(lockName(draft.id)))
        .sort((a, b) => a.at.localeCompare(b.at));
    },
    hold: (id) => {
      let release: () => void = () => undefined;
      const held = new Promise<void>((resolve) => {
        release = resolve;
      });
      // Web Locks exist in secure contexts only; without them two benches may take up one draft, which joins to the same.
      void navigator.locks?.request(lockName(id), () => held);
      return () => release();
    },
  };
};
