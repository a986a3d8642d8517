import type { Hash } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { CagepostError } from '@/lib/domain/shared/errors';
import { boundaryOf, MultipartFrame } from './multipart-frame';
import { PartWriter } from './part-writer';
import { ClipRefusal } from './refusal';

/** A checksum that has seen the first `bytes` of a file. Kept between tries, so that only a restart reads again. */
export interface RunningHash {
  md5: Hash;
  bytes: number;
}

export interface Receiving {
  request: IncomingMessage;
  part: string;
  startAt: number;
  sizeBytes: number;
  /** So many bytes of the beginning decide what it is. */
  headBytes: number;
  sniff: (head: Uint8Array) => Promise<string>;
  /** The checksum of exactly the first `startAt` bytes, to be carried on; null when it is not known. */
  hash: RunningHash | null;
  signal: AbortSignal;
  onSynced: (receivedBytes: number) => void;
}

const isDiskFull = (error: unknown) =>
  error instanceof Error && 'code' in error && (error.code === 'ENOSPC' || error.code === 'EDQUOT');

/** The frame of the body, checked against its declared length before a byte is read. */
const frameOf = (receiving: Receiving): MultipartFrame => {
  const { headers } = receiving.request;
  const boundary = boundaryOf(headers['content-type'] ?? '');
  const bodyBytes = Number(headers['content-length'] ?? Number.NaN);
  if (boundary === null || !(bodyBytes > 0))
    throw new CagepostError('invalid', 'What arrived is not an upload. Nothing of it was kept.', {
      reason: 'form data of known length expected',
    });
  return new MultipartFrame(boundary, bodyBytes, receiving.sizeBytes - receiving.startAt);
};

/**
 * Appends the rest of a file from a PUT to its part and syncs it. When the connection ends early, what arrived
 * stays (also on disk) and `unavailable` is thrown; content that is refused throws an UploadRefusal and the caller
 * clears the part. On success the part holds exactly `sizeBytes`; answers the type that its first bytes show, or null
 * when this request did not bring them.
 */
export const receiveFile = async (receiving: Receiving): Promise<string | null> => {
  const { request, startAt, sizeBytes, hash, signal } = receiving;
  const frame = frameOf(receiving);
  const writer = await PartWriter.open(receiving.part, (written) => receiving.onSynced(startAt + written));
  let foundType: string | null = null;
  let unseen: Buffer[] | null = startAt === 0 ? [] : null;

  const keep = (bytes: Buffer) => {
    if (hash) {
      hash.md5.update(bytes);
      hash.bytes += bytes.length;
    }
    return writer.push(bytes);
  };
  const endConnection = () => request.destroy(new Error('A newer try took over'));
  signal.addEventListener('abort', endConnection);
  try {
    // Leaving the loop early must not close the connection: the refusal still has to be told over it.
    for await (const chunk of request.iterator({ destroyOnReturn: false })) {
      let bytes = frame.take(chunk as Buffer);
      if (unseen) {
        unseen.push(bytes);
        const seen = unseen.reduce((sum, part) => sum + part.length, 0);
        if (seen < Math.min(receiving.headBytes, sizeBytes)) continue;
        bytes = Buffer.concat(unseen);
        unseen = null;
        foundType = await receiving.sniff(bytes.subarray(0, receiving.headBytes));
      }
      if (bytes.length > 0) await keep(bytes);
    }
    if (!frame.isFileWhole) throw new Error('The body ended early');
    frame.assertClosed();
    await writer.settle();
    return foundType;
  } catch (error) {
    if (isDiskFull(error)) throw new ClipRefusal('disk-full', {}, { cause: error });
    if (error instanceof CagepostError) throw error;
    await writer.settle();
    throw new CagepostError(
      'unavailable',
      'The connection ended before all of it was here. What was sent is kept. It goes on by itself.',
      {},
      { cause: error },
    );
  } finally {
    signal.removeEventListener('abort', endConnection);
    await writer.close();
  }
};
