import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { copyFile, link, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import * as z from 'zod';
import { syncFolder } from '../storage-local';
import { uploadMetadataSchema } from './upload-router';
import { UPLOAD_ID } from './upload-sort';

const recordSchema = z.object({
  version: z.literal(2),
  /** See `uploadIdOf`. */
  id: z.string().regex(UPLOAD_ID),
  fileKey: z.string(),
  /** What was claimed; its `print` tells a repeat from another file under the same id. */
  metadata: uploadMetadataSchema,
  callbackUrl: z.string(),
  state: z.enum(['receiving', 'stored', 'done']),
  foundType: z.string().optional(),
  md5: z.string().optional(),
  /** What the completion hook answered; null until it did. */
  answer: z.unknown(),
});

/** What is known of one upload on its way; kept beside its bytes, so that a killed server finds both. */
export type UploadRecord = z.infer<typeof recordSchema>;

export interface UploadRecords {
  /** The file that grows while bytes arrive. */
  partOf(id: string): string;
  /** Bytes received so far. */
  receivedBytes(id: string): Promise<number>;
  /**
   * Makes the growing file this process's own, for a folder that several share: whoever still writes to it, because its
   * connection is dead and nobody noticed, writes into nothing from then on.
   */
  own(id: string): Promise<void>;
  /** Takes the whole file out, to a name of its own; null when another process has made it its own meanwhile. */
  takeOut(id: string): Promise<string | null>;
  load(id: string): Promise<UploadRecord | null>;
  save(record: UploadRecord): Promise<void>;
  /** Forgets the upload: record and part. */
  drop(id: string): Promise<void>;
  all(): Promise<{ record: UploadRecord; touchedAt: Date }[]>;
  /** Removes what no record owns and nobody touched since `before`. */
  clearStrays(before: Date): Promise<void>;
}

/** Records and growing files of the embedded ingest, in one folder. */
export const createUploadRecords = (folder: string): UploadRecords => {
  const file = (id: string, ending: string) => {
    if (!UPLOAD_ID.test(id)) throw new RangeError('An upload goes by ids in lower case');
    return path.join(/*turbopackIgnore: true*/ folder, `${id}.${ending}`);
  };
  // The file that this process writes is told by its inode: one that was put in its place has another.
  const owned = new Map<string, number>();
  const inodeOf = (name: string) =>
    stat(name).then(
      (facts) => facts.ino,
      () => null,
    );
  const namesIn = (name: string): Promise<string[]> => readdir(name).catch(() => []);
  const touchedAt = (name: string) =>
    stat(name).then(
      (facts) => facts.mtime,
      () => new Date(0),
    );

  const load = async (id: string): Promise<UploadRecord | null> => {
    const text = await readFile(file(id, 'json'), 'utf8').catch(() => null);
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
    partOf: (id) => file(id, 'part'),
    receivedBytes: (id) =>
      stat(file(id, 'part')).then(
        (facts) => facts.size,
        () => 0,
      ),

    async own(id) {
      const part = file(id, 'part');
      const inode = await inodeOf(part);
      if (inode !== null && owned.get(id) === inode) return;
      const fresh = file(id, `${randomUUID()}.part`);
      if (inode !== null) await copyFile(part, fresh, constants.COPYFILE_FICLONE);
      const handle = await open(fresh, 'a', 0o600);
      try {
        await handle.sync();
        owned.set(id, (await handle.stat()).ino);
      } finally {
        await handle.close();
      }
      await rename(fresh, part);
    },

    async takeOut(id) {
      const out = file(id, `${randomUUID()}.part`);
      try {
        await rename(file(id, 'part'), out);
      } catch (error) {
        if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
        throw error;
      }
      const mine = owned.get(id);
      owned.delete(id);
      if (mine === undefined || (await inodeOf(out)) === mine) return out;
      // Given back, unless its owner has put another one there already.
      await link(out, file(id, 'part')).catch(() => {});
      await rm(out, { force: true });
      return null;
    },

    async save(record) {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      const temporary = file(record.id, `${randomUUID()}.tmp`);
      const handle = await open(temporary, 'w', 0o600);
      try {
        await handle.writeFile(JSON.stringify(record));
        await handle.sync();
      } finally {
        await handle.close();
      }
      await rename(temporary, file(record.id, 'json'));
      await syncFolder(folder);
    },

    async drop(id) {
      owned.delete(id);
      await rm(file(id, 'part'), { force: true });
      await rm(file(id, 'json'), { force: true });
    },

    async all() {
      const names = await namesIn(folder);
      const found: { record: UploadRecord; touchedAt: Date }[] = [];
      for (const name of names) {
        const id = name.slice(0, -'.json'.length);
        if (!name.endsWith('.json') || !UPLOAD_ID.test(id)) continue;
        const record = await load(id);
        if (!record) continue;
        const times = await Promise.all([touchedAt(file(id, 'json')), touchedAt(file(id, 'part'))]);
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
