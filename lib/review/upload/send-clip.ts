import { createSendFile, type TryOptions } from './send-file';
import { finalFaultOf, type UploadFault } from './upload-faults';

/** A try that ended. Without a `fault` the next one may get further. */
export class SendFailure extends Error {
  override readonly name = 'SendFailure';
  constructor(
    readonly fault: UploadFault | null,
    message: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

export interface SendOptions extends TryOptions {
  clipId: string;
  /** A short print of the content, so that another file under the same id is told apart. */
  print?: string | undefined;
}

/** Sends one file once: asks for its address, resumes from the offset that the host names, waits for the answer. */
export type SendClip = (file: File, options: SendOptions) => Promise<void>;

/** Makes the sender over the SDK's client; `url` is the path of the upload route. */
export const createSendClip = (url?: string): SendClip => {
  const send = createSendFile<{ clipId: string; print?: string }>('clip', url);
  return async (file, { clipId, print, ...trying }) => {
    const { faults, isStored, cause } = await send(file, { clipId, ...(print && { print }) }, trying);
    if (isStored) return;
    const fault = faults.map(finalFaultOf).find((found) => found !== null) ?? null;
    throw new SendFailure(fault, 'A try to send the clip failed', { cause });
  };
};

const PRINT_BYTES = 64 * 1024;

/**
 * A short print of a file: SHA-256 over its size, its first and its last 64 KiB, in hexadecimal. Undefined where the
 * browser has no WebCrypto (plain http to another machine).
 */
export const printOf = async (file: Blob): Promise<string | undefined> => {
  if (!globalThis.crypto?.subtle) return undefined;
  const ends = new Blob([String(file.size), file.slice(0, PRINT_BYTES), file.slice(-PRINT_BYTES)]);
  const digest = await crypto.subtle.digest('SHA-256', await ends.arrayBuffer());
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
};
