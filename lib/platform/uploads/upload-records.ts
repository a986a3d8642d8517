import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import * as z from 'zod';
import type { AcceptedType } from '@/lib/domain/clips/accepted-types';
import { syncFolder } from '../storage-local';

const recordSchema = z.object({
  version: z.literal(1),
  clipId: z.uuid(),
  personId: z.string(),
  fileKey: z.string(),
  storageKey: z.string(),
  sizeBytes: z.int().positive(),
  declaredType: z.string().transform((type) => type as AcceptedType),
  /** A short print of the content made by the sender, to tell a repeat from another file under the same id. */
  print: z.string().optional(),
  metadata: z.record(z.string(), z.unknown()),
  callbackUrl: z.string(),
  slug: z.string(),
  state: z.enum(['receiving', 'stored', 'done']),
  foundType: z
    .string()
    .transform((type) => type as AcceptedType)
    .optional(),
  md5: z.string().optional(),
  /** What the completion hook answered; null until it did. */
  answer: z.unknown(),
});

/** What is known of one upload on its way; kept beside its bytes, so that a killed server finds both. */
export type UploadRecord = z.infer<typeof recordSchema>;

const CLIP_ID = /^[0-9a-f-]{36}$/;

export interface UploadRecords {
  /** The file that grows while bytes arrive. */
  partOf(clipId: string): string;
  /** Bytes received so far. */
  receivedBytes(clipId: string): Promise<number>;
  load(clipId: string): Promise<UploadRecord | null>;
  save(record: UploadRecord): Promise<void>;
  /** Forgets the upload: record and part. */
  drop(clipId: string): Promise<void>;
  all(): Promise<{ record: UploadRecord; touchedAt: Date }[]>;
  /** Removes what no record owns and nobody touched since `before`. */
  clearStrays(before: Date): Promise<void>;
}

/** Records and growing files of the embedded ingest, in one folder. */
export const createUploadRecords = (folder: string): UploadRecords => {
  const file = (clipId: string, ending: string) => {
    if (!CLIP_ID.test(clipId)) throw new RangeError('A clip id is a UUID in lower case');
    return path.join(/*turbopackIgnore: true*/ folder, `${clipId}.${ending}`);
  };
  const namesIn = (name: string): Promise<string[]> => readdir(name).catch(() => []);
  const touchedAt = (name: string) =>
    stat(name).then(
      (facts) => facts.mtime,
      () => new Date(0),
    );

  const load = async (clipId: string): Promise<UploadRecord | null> => {
    const text = await readFile(file(clipId, 'json'), 'utf8').catch(() => null);
    if (text === null) return null;
    try {
      return recordSchema.parse(JSON.parse(text));
    } catch {
      // Records are renamed into place whole: one that does not read is of another version. Sending starts anew.
      return null;
    }
  };

  return {
    load,
    partOf: (clipId) => file(clipId, 'part'),
    receivedBytes: (clipId) =>
      stat(file(clipId, 'part')).then(
        (facts) => facts.size,
        () => 0,
      ),

    async save(record) {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      const temporary = file(record.clipId, `${randomUUID()}.tmp`);
      const handle = await open(temporary, 'w', 0o600);
      try {
        await handle.writeFile(JSON.stringify(record));
        await handle.sync();
      } finally {
        await handle.close();
      }
      await rename(temporary, file(record.clipId, 'json'));
      await syncFolder(folder);
    },

    async drop(clipId) {
      await rm(file(clipId, 'part'), { force: true });
      await rm(file(clipId, 'json'), { force: true });
    },

    async all() {
      const names = await namesIn(folder);
      const found: { record: UploadRecord; touchedAt: Date }[] = [];
      for (const name of names) {
        const clipId = name.slice(0, -'.json'.length);
        if (!name.endsWith('.json') || !CLIP_ID.test(clipId)) continue;
        const record = await load(clipId);
        if (!record) continue;
        const times = await Promise.all([touchedAt(file(clipId, 'json')), touchedAt(file(clipId, 'part'))]);
        found.push({ record, touchedAt: times[0] > times[1] ? times[0] : times[1] });
      }
      return found;
    },

    async clearStrays(before) {
      const names = await namesIn(folder);
      for (const name of names) {
        const isOwned = name.endsWith('.json') || names.includes(name.replace(/\.part$/, '.json'));
        const full = path.join(/*turbopackIgnore: true*/ folder, name);
        if (!isOwned && (await touchedAt(full)) < before) await rm(full, { force: true });
      }
    },
  };
};
