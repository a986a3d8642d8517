import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, rm, statfs } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Log } from '@/lib/workflows/ports';
import type { LocalStorage } from '../storage-local';
import type { PersonOf, UploadLimits } from './claims';
import { requestOf } from './node-http';
import { receiveFile, type RunningHash } from './receive-file';
import { ClipRefusal, UploadRefusal } from './refusal';
import { readSignedAddress, type EmbeddedHost } from './signed-address';
import type { UploadRecord, UploadRecords } from './upload-records';
import type { UploadSort, UploadSorts } from './upload-sort';
import { WriterLocks } from './writer-locks';

export interface IngestSettings {
  folder: string;
  host: EmbeddedHost;
  records: UploadRecords;
  storage: LocalStorage;
  sorts: UploadSorts;
  personOf: PersonOf;
  limits: UploadLimits;
  log: Log;
  /** Runs the SDK's completion hook for a stored upload; when it worked, the record is `done` afterwards. */
  complete: (record: UploadRecord) => Promise<void>;
  /** Whether other processes receive into the same folder. */
  isShared?: boolean;
  now?: () => Date;
  freeBytes?: (folder: string) => Promise<number>;
}

export interface Ingest {
  /** How many bytes of the upload at this address are kept. */
  offset(request: IncomingMessage): Promise<number>;
  /** Takes the bytes of a PUT; answers the finished record, and whether the body was not needed. */
  take(request: IncomingMessage): Promise<{ record: UploadRecord; isRepeat: boolean }>;
  /** Carries on from what is on the disk: stores what is whole, runs the hook again where it did not work. */
  recover(record: UploadRecord): Promise<UploadRecord>;
  /** Forgets an upload, once whoever writes it has ended; its sender begins again. */
  forget(id: string): Promise<void>;
  /** Forgets an upload and tells why. */
  refuse(record: UploadRecord, refusal: UploadRefusal): Promise<void>;
  isBusy(id: string): boolean;
}

const freeBytesOf = async (folder: string): Promise<number> => {
  const facts = await statfs(folder);
  return facts.bavail * facts.bsize;
};

const offsetOf = (range: string | undefined): number => Number(/^bytes=(\d+)-$/.exec(range ?? '')?.[1] ?? 0);

const wrongOffset = (receivedBytes: number) =>
  new CagepostError('conflict', 'Another try got further. It goes on from there by itself.', {
    receivedBytes,
  });

/** Checksums of uploads on their way that are kept in memory; older ones are read again from the disk. */
const KEPT_HASHES = 64;

/** The embedded ingest: the receiving side of the SDK's protocol over a folder of this machine. */
export const createIngest = (settings: IngestSettings): Ingest => {
  const { folder, records, storage, sorts, limits } = settings;
  const sortOf = (record: UploadRecord): UploadSort => sorts[record.metadata.slug];
  const now = settings.now ?? (() => new Date());
  const freeBytes = settings.freeBytes ?? freeBytesOf;
  const locks = new WriterLocks();
  const hashes = new Map<string, RunningHash>();

  const hashAt = (id: string, startAt: number): RunningHash | null => {
    const kept = hashes.get(id);
    if (kept?.bytes === startAt) return kept;
    hashes.delete(id);
    if (startAt > 0) return null;
    const fresh = { md5: createHash('md5'), bytes: 0 };
    hashes.set(id, fresh);
    const oldest = hashes.keys().next().value;
    if (hashes.size > KEPT_HASHES && oldest !== undefined) hashes.delete(oldest);
    return fresh;
  };

  /** The record behind a signed address. */
  const addressed = async (request: IncomingMessage): Promise<UploadRecord> => {
    const address = readSignedAddress(request.url ?? '', settings.host, now());
    const record = await records.load(address.id);
    if (!record || record.fileKey !== address.fileKey || record.metadata.sizeBytes !== address.sizeBytes)
      throw new CagepostError('conflict', 'This upload has to begin again. It does so by itself.');
    return record;
  };

  /** Throws unless the request comes from the person who claimed it. */
  const assertSender = async (request: IncomingMessage, record: UploadRecord): Promise<void> => {
    const personId = await settings.personOf(requestOf(request));
    if (personId === null)
      throw new CagepostError('not-signed-in', 'Please sign in again. What was sent so far is kept.');
    if (personId !== record.metadata.personId) throw notFound('upload');
  };

  /**
   * Chromium repeats a PUT by itself after a reset, from byte 0. It is turned away before anything else is looked
   * up, because it pushes bytes in vain all the while; the sender then asks for the offset.
   */
  const assertNotBehind = async (request: IncomingMessage, record: UploadRecord): Promise<void> => {
    if (record.state !== 'receiving') return;
    const receivedBytes = await records.receivedBytes(record.id);
    if (offsetOf(request.headers.range) < receivedBytes) throw wrongOffset(receivedBytes);
  };

  const refuse = async (record: UploadRecord, refusal: UploadRefusal) => {
    const { id } = record;
    const { subject, personId } = record.metadata;
    hashes.delete(id);
    await records.drop(id);
    settings.log.warn({ upload: id, ...refusal.detail, fault: refusal.reason }, 'upload turned away');
    await sortOf(record).refused(subject, personId, refusal);
  };

  const makeRoom = async (wanted: number) => {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    const free = await freeBytes(folder);
    if (free < wanted + limits.reserveBytes) throw new ClipRefusal('disk-full', { free, wanted });
  };

  const receive = async (request: IncomingMessage, record: UploadRecord, signal: AbortSignal) => {
    const { id } = record;
    const { sizeBytes, subject, declaredType } = record.metadata;
    const sort = sortOf(record);
    if (settings.isShared) {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      await records.own(id);
    }
    const startAt = await records.receivedBytes(id);
    if (offsetOf(request.headers.range) !== startAt) throw wrongOffset(startAt);
    try {
      await makeRoom(sizeBytes - startAt);
      const foundType = await receiveFile({
        request,
        part: records.partOf(id),
        ...{ startAt, sizeBytes, signal, headBytes: sort.headBytes },
        sniff: (head) => sort.sniff(subject, head, declaredType),
        hash: hashAt(id, startAt),
        onSynced: (receivedBytes) => void tellProgress(record, receivedBytes),
      });
      return await moveIn({ ...record, ...(foundType && { foundType }) });
    } catch (error) {
      if (error instanceof UploadRefusal) {
        const refusal = sort.inItsWords(error);
        await refuse(record, refusal);
        throw refusal;
      }
      // A body whose frame is broken at its end may have spoilt the part.
      if (error instanceof CagepostError && error.fault === 'invalid') await records.drop(id);
      throw error;
    }
  };

  const tellProgress = async (record: UploadRecord, receivedBytes: number) => {
    await sortOf(record)
      .progress(record.metadata.subject, receivedBytes)
      .catch((error: unknown) => {
        settings.log.warn({ upload: record.id, err: error }, 'progress of an upload was not written down');
      });
  };

  /** Checksum and type of a whole file: from memory when it came in one go, else read again. */
  const factsOf = async (record: UploadRecord, file: string) => {
    const kept = hashes.get(record.id);
    hashes.delete(record.id);
    const { headBytes, sniff } = sortOf(record);
    const { subject, declaredType, sizeBytes } = record.metadata;
    const isKnown = kept?.bytes === sizeBytes;
    const md5 = isKnown ? kept.md5 : createHash('md5');
    let head = Buffer.alloc(0);
    const range = isKnown ? { start: 0, end: headBytes - 1 } : {};
    if (!isKnown || !record.foundType)
      for await (const chunk of createReadStream(file, { highWaterMark: 1 << 20, ...range })) {
        const bytes = chunk as Buffer;
        if (!isKnown) md5.update(bytes);
        if (head.length < headBytes) head = Buffer.concat([head, bytes.subarray(0, headBytes - head.length)]);
      }
    const foundType = record.foundType ?? (await sniff(subject, head, declaredType));
    return { md5: md5.digest('hex'), foundType };
  };

  /** Whole part to storage. After a crash in between, `recover` finds the file in storage and the record behind. */
  const moveIn = async (record: UploadRecord): Promise<UploadRecord> => {
    const part = settings.isShared ? await records.takeOut(record.id) : records.partOf(record.id);
    if (part === null) throw wrongOffset(await records.receivedBytes(record.id));
    // What came in here may not be all of it: with others about, only the file itself tells.
    if (settings.isShared) hashes.delete(record.id);
    const facts = await factsOf(record, part);
    await storage.adopt(record.metadata.storageKey, part);
    const stored: UploadRecord = { ...record, ...facts, state: 'stored' };
    await records.save(stored);
    return stored;
  };

  const finish = async (record: UploadRecord): Promise<UploadRecord> => {
    if (record.state === 'stored') await settings.complete(record);
    const after = await records.load(record.id);
    if (after?.state !== 'done')
      throw new CagepostError(
        'unavailable',
        'All of it is here, but it could not be handed on yet. It goes on by itself.',
      );
    return after;
  };

  const syncPart = async (part: string) => {
    const handle = await open(part, 'r+');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  };

  return {
    isBusy: (id) => locks.isHeld(id),
    refuse,

    forget: (id) =>
      locks.run(id, async () => {
        hashes.delete(id);
        await records.drop(id);
      }),

    async offset(request) {
      const record = await addressed(request);
      await assertSender(request, record);
      await locks.settle(record.id);
      return record.state === 'receiving' ? records.receivedBytes(record.id) : record.metadata.sizeBytes;
    },

    async take(request) {
      const addressedRecord = await addressed(request);
      const { id } = addressedRecord;
      await assertNotBehind(request, addressedRecord);
      await assertSender(request, addressedRecord);
      return locks.run(id, async (signal) => {
        // Read again: the writer before this one may have finished.
        const record = await records.load(id);
        if (!record)
          throw new CagepostError('conflict', 'This upload has to begin again. It does so by itself.');
        const isRepeat = record.state !== 'receiving';
        const whole = isRepeat ? record : await receive(request, record, signal);
        return { record: await finish(whole), isRepeat };
      });
    },

    recover: (record) =>
      locks.run(record.id, async () => {
        if (record.state !== 'receiving') return finish(record);
        const { sizeBytes, storageKey } = record.metadata;
        const part = records.partOf(record.id);
        if ((await records.receivedBytes(record.id)) === sizeBytes) {
          await syncPart(part);
          return finish(await moveIn(record));
        }
        if ((await storage.size(storageKey)) !== sizeBytes) return record;
        const file = await storage.local(storageKey);
        const stored: UploadRecord = { ...record, ...(await factsOf(record, file.path)), state: 'stored' };
        await file.release();
        await records.save(stored);
        await rm(part, { force: true });
        return finish(stored);
      }),
  };
};
