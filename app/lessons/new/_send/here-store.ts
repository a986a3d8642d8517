import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import * as z from 'zod';
import { draftSchema } from '@/lib/domain/lessons/intake';
import type { ClipHere } from './send-types';

const clipHereSchema = z.object({
  name: z.string(),
  sizeBytes: z.number(),
  seconds: z.number(),
  fileRate: z.number().nullable(),
  isRateOpen: z.boolean(),
  isRateUnknown: z.boolean(),
  isHeld: z.boolean(),
  isTooLong: z.boolean(),
}) satisfies z.ZodType<ClipHere>;

/** What this device keeps of an unsent lesson. Version 1; anything else is forgotten, because the program has the draft. */
const heldDraftSchema = z.object({
  version: z.literal(1),
  lessonId: z.uuid(),
  playerId: z.uuid(),
  followsId: z.uuid().nullable(),
  draft: draftSchema,
  isKept: z.boolean(),
  here: z.record(z.string(), clipHereSchema),
  changedAt: z.number(),
});
export type HeldDraft = z.infer<typeof heldDraftSchema>;

interface Shape extends DBSchema {
  drafts: { key: string; value: unknown };
  /** Files that wait for a cut and are not in the upload queue yet. */
  files: { key: string; value: Blob };
}

let opened: Promise<IDBPDatabase<Shape>> | null = null;
const database = () =>
  (opened ??= openDB<Shape>('cagepost-send', 1, {
    upgrade: (db) => {
      db.createObjectStore('drafts');
      db.createObjectStore('files');
    },
  }));

/** The unsent lesson with that id on this device, or null (also where the browser keeps nothing). */
export const readHere = async (lessonId: string): Promise<HeldDraft | null> => {
  try {
    const found = heldDraftSchema.safeParse(await (await database()).get('drafts', lessonId));
    return found.success ? found.data : null;
  } catch {
    return null;
  }
};

/** The unsent lesson for a player that was changed last on this device, or null. */
export const readLatestHere = async (playerId: string): Promise<HeldDraft | null> => {
  try {
    const all = await (await database()).getAll('drafts');
    const ofPlayer = all.flatMap((one) => {
      const found = heldDraftSchema.safeParse(one);
      return found.success && found.data.playerId === playerId ? [found.data] : [];
    });
    return ofPlayer.sort((a, b) => b.changedAt - a.changedAt)[0] ?? null;
  } catch {
    return null;
  }
};

export const writeHere = async (held: HeldDraft): Promise<void> => {
  await (await database()).put('drafts', held, held.lessonId);
};

/** Forgets an unsent lesson: after it was sent, or when it was thrown away. */
export const forgetHere = async (lessonId: string): Promise<void> => {
  await (await database()).delete('drafts', lessonId);
};

export const keepFileHere = async (clipId: string, file: Blob): Promise<void> => {
  await (await database()).put('files', file, clipId);
};
export const readFileHere = async (clipId: string): Promise<Blob | null> => {
  try {
    return (await (await database()).get('files', clipId)) ?? null;
  } catch {
    return null;
  }
};
export const forgetFileHere = async (clipId: string): Promise<void> => {
  await (await database()).delete('files', clipId);
};
