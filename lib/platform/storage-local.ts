import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { copyFile, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Storage } from '@/lib/workflows/ports';
import { checkedKey, checkedPrefix } from './storage-keys';

/** Storage in a folder of this machine. `adopt` moves a finished file in without copying it. */
export interface LocalStorage extends Storage {
  /** Moves the file at `from` (same disk, already synced) under the key; after it returns the move outlives a crash. */
  adopt(key: string, from: string): Promise<void>;
}

/** Names that begin with a dot are never keys: half-written files hide behind it. */
const TEMPORARY = '.part-';

/** Makes what was done to the folder itself (a rename, a removal) outlive a power cut. */
export const syncFolder = async (folder: string): Promise<void> => {
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};

const isCode = (error: unknown, ...codes: string[]) =>
  error instanceof Error && 'code' in error && codes.includes(String(error.code));

/** The same error, or the one that people understand when the disk is full. */
const told = (error: unknown) =>
  isCode(error, 'ENOSPC', 'EDQUOT')
    ? new CagepostError(
        'storage-full',
        'There is no room left to keep this file. Nothing of it was kept. Try again later.',
        {},
        { cause: error },
      )
    : error;

/** Storage under `folder`, one file a key. Writes go to a hidden file first, are synced, then renamed. */
export const createLocalStorage = (folder: string): LocalStorage => {
  const at = (key: string) => path.join(/*turbopackIgnore: true*/ folder, checkedKey(key));

  const madeFolder = async (file: string) => {
    const wanted = path.dirname(file);
    const first = await mkdir(wanted, { recursive: true, mode: 0o700 });
    // Each folder that was made is an entry of its parent, which has to be synced for it to be found again.
    for (let made = wanted; first !== undefined && made.length >= first.length; made = path.dirname(made))
      await syncFolder(path.dirname(made));
    return wanted;
  };

  const moveIn = async (from: string, to: string) => {
    const into = await madeFolder(to);
    await rename(from, to);
    await syncFolder(into);
  };

  return {
    async put(key, from) {
      const to = at(key);
      const temporary = path.join(await madeFolder(to), `${TEMPORARY}${randomUUID()}`);
      try {
        if ('path' in from) await copyFile(from.path, temporary, constants.COPYFILE_FICLONE);
        const handle = await open(temporary, 'path' in from ? 'r+' : 'w', 0o600);
        try {
          if ('bytes' in from) await handle.writeFile(from.bytes);
          await handle.sync();
        } finally {
          await handle.close();
        }
        await moveIn(temporary, to);
      } catch (error) {
        await rm(temporary, { force: true });
        throw told(error);
      }
    },

    async adopt(key, from) {
      await moveIn(from, at(key));
    },

    async read(key, range): Promise<Readable | null> {
      const file = at(key);
      let handle;
      try {
        handle = await open(file, 'r');
      } catch (error) {
        if (isCode(error, 'ENOENT', 'ENOTDIR')) return null;
        throw error;
      }
      return handle.createReadStream({ ...range, highWaterMark: 256 * 1024 });
    },

    async size(key) {
      try {
        const facts = await stat(at(key));
        return facts.isFile() ? facts.size : null;
      } catch (error) {
        if (isCode(error, 'ENOENT', 'ENOTDIR')) return null;
        throw error;
      }
    },

    async local(key) {
      const file = at(key);
      await stat(file);
      return { path: file, release: async () => {} };
    },

    async list(prefix) {
      const plain = checkedPrefix(prefix, { isEmptyAllowed: true });
      const start = path.join(/*turbopackIgnore: true*/ folder, plain);
      try {
        if (plain !== '' && (await stat(start)).isFile()) return [plain];
        const entries = await readdir(start, { recursive: true, withFileTypes: true });
        return entries
          .filter((entry) => entry.isFile() && !entry.name.startsWith('.'))
          .map((entry) =>
            path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'),
          )
          .sort();
      } catch (error) {
        if (isCode(error, 'ENOENT', 'ENOTDIR')) return [];
        throw error;
      }
    },

    async remove(prefix) {
      const plain = checkedPrefix(prefix, { isEmptyAllowed: false });
      const target = path.join(/*turbopackIgnore: true*/ folder, plain);
      await rm(target, { recursive: true, force: true });
      await syncFolder(path.dirname(target)).catch((error: unknown) => {
        if (!isCode(error, 'ENOENT', 'ENOTDIR')) throw error;
      });
    },
  };
};
