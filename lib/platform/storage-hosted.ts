import { randomUUID } from 'node:crypto';
import { createWriteStream, openAsBlob } from 'node:fs';
import { mkdir, rm } from 'node:fs/promises';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream as WebStream } from 'node:stream/web';
import { UTApi, UTFile } from 'uploadthing/server';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Storage } from '@/lib/workflows/ports';
import { checkedKey, checkedPrefix, isUnder } from './storage-keys';

export interface HostedSettings {
  /** The service's token: base64 of JSON with `apiKey`, `appId` and `regions`. */
  token: string;
  /** A folder of this machine for the copies that the media engine opens. */
  scratch: string;
  /** How the service is reached; the tests put a stand-in here. */
  fetch?: typeof fetch;
}

interface HostedFile {
  hostKey: string;
  size: number;
}

const PAGE = 500;
/** Long enough to begin one answer; the address never leaves this server. */
const READ_SECONDS = 60;

const down = (what: string, cause?: unknown) =>
  new CagepostError(
    'unavailable',
    'The place where clips are kept does not answer. Nothing was lost. Try again in a minute.',
    { what },
    { cause },
  );

/**
 * Storage at the hosted service. Our key travels as the file's `customId`; the service's own file key is looked up
 * from its list and kept in this process. Files are private: each read goes through this server with an address
 * signed for a minute, and is never redirected (a redirect would taint the canvas that draws the frames).
 */
export const createHostedStorage = (settings: HostedSettings): Storage => {
  const reach = settings.fetch ?? fetch;
  const api = new UTApi({ token: settings.token, fetch: reach, logLevel: 'Error' });
  let known = new Map<string, HostedFile>();
  let refreshing: Promise<void> | null = null;

  const relist = async () => {
    const found = new Map<string, HostedFile>();
    for (let offset = 0; ; offset += PAGE) {
      const page = await api.listFiles({ limit: PAGE, offset }).catch((error: unknown) => {
        throw down('list', error);
      });
      for (const file of page.files)
        if (file.customId !== null && file.status === 'Uploaded')
          found.set(file.customId, { hostKey: file.key, size: file.size });
      if (!page.hasMore || page.files.length === 0) break;
    }
    known = found;
  };
  const refresh = () =>
    (refreshing ??= relist().finally(() => {
      refreshing = null;
    }));

  // Another process may have written it since: absent is only said after a fresh look.
  const find = async (key: string): Promise<HostedFile | null> => {
    checkedKey(key);
    if (!known.has(key)) await refresh();
    return known.get(key) ?? null;
  };

  const fetchFile = async (file: HostedFile, range?: { start: number; end: number }) => {
    const { ufsUrl } = await api.generateSignedURL(file.hostKey, { expiresIn: READ_SECONDS });
    return reach(ufsUrl, { headers: range ? { range: `bytes=${range.start}-${range.end}` } : {} });
  };

  const read = async (key: string, range?: { start: number; end: number }): Promise<Readable | null> => {
    const file = await find(key);
    if (!file) return null;
    let answer = await fetchFile(file, range);
    if (answer.status === 404) {
      // The file was replaced by another process: its host key is a new one.
      await answer.body?.cancel();
      await refresh();
      const again = known.get(key);
      if (!again) return null;
      answer = await fetchFile(again, range);
    }
    if (!answer.ok || !answer.body) throw down('read', { status: answer.status });
    if (range && answer.status !== 206) {
      await answer.body.cancel();
      throw down('read', { status: answer.status, expected: 206 });
    }
    return Readable.fromWeb(answer.body as WebStream);
  };

  const removeKeys = async (keys: string[]) => {
    if (keys.length === 0) return;
    await api.deleteFiles(keys, { keyType: 'customId' }).catch((error: unknown) => {
      throw down('remove', error);
    });
    for (const key of keys) known.delete(key);
  };

  return {
    read,

    async put(key, from) {
      if (await find(key)) await removeKeys([key]);
      // `openAsBlob` reads from the disk while sending: a large file never lies in memory.
      const content = 'path' in from ? await openAsBlob(from.path) : new Blob([new Uint8Array(from.bytes)]);
      const file = new UTFile([content], path.basename(key), { customId: key });
      const sent = await api.uploadFiles(file, { acl: 'private' });
      if (sent.error) throw down('put', sent.error);
      known.set(key, { hostKey: sent.data.key, size: sent.data.size });
    },

    async size(key) {
      return (await find(key))?.size ?? null;
    },

    async local(key) {
      const stream = await read(key);
      if (!stream) throw new CagepostError('not-found', 'That file is not there any more.', { key });
      await mkdir(settings.scratch, { recursive: true, mode: 0o700 });
      const copy = path.join(
        /*turbopackIgnore: true*/ settings.scratch,
        `${randomUUID()}${path.extname(key)}`,
      );
      try {
        await pipeline(stream, createWriteStream(copy, { mode: 0o600 }));
      } catch (error) {
        await rm(copy, { force: true });
        throw error;
      }
      return { path: copy, release: () => rm(copy, { force: true }) };
    },

    async list(prefix) {
      const plain = checkedPrefix(prefix, { isEmptyAllowed: true });
      await refresh();
      return [...known.keys()].filter((key) => isUnder(key, plain)).sort();
    },

    async remove(prefix) {
      const plain = checkedPrefix(prefix, { isEmptyAllowed: false });
      await refresh();
      await removeKeys([...known.keys()].filter((key) => isUnder(key, plain)));
    },
  };
};
