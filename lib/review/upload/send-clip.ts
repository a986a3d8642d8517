import { genUploader } from 'uploadthing/client';
import type { FileRoute } from 'uploadthing/types';
import * as z from 'zod';
import { finalFaultOf, type UploadFault } from './upload-faults';

/** The route's shape as the SDK's client wants it; the server's own router lies beyond the import gate. */
type ClipRouter = {
  clip: FileRoute<{
    input: { clipId: string; print?: string };
    output: Record<string, string>;
    errorShape: { message: string; fault: string };
  }>;
};

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

export interface SendOptions {
  clipId: string;
  /** A short print of the content, so that another file under the same id is told apart. */
  print?: string | undefined;
  signal: AbortSignal;
  /** Bytes of the file that are on the other side, as far as this try knows. */
  onProgress: (sentBytes: number) => void;
}

/** Sends one file once: asks for its address, resumes from the offset that the host names, waits for the answer. */
export type SendClip = (file: File, options: SendOptions) => Promise<void>;

const told = z.looseObject({ fault: z.string().optional() });

/** The closed names of reasons that an error of the SDK's client carries. */
const faultsIn = (error: unknown): string[] => {
  if (typeof error !== 'object' || error === null) return [];
  // A refused claim carries the answer as `cause`, a refused PUT as `data`.
  const bodies = ['cause' in error ? error.cause : null, 'data' in error ? error.data : null];
  return bodies.flatMap((body) => told.safeParse(body).data?.fault ?? []);
};

/** Makes the sender over the SDK's client; `url` is the path of the upload route. */
export const createSendClip = (url = '/api/uploadthing'): SendClip => {
  const { uploadFiles } = genUploader<ClipRouter>({ url, package: 'cagepost' });
  return async (file, { clipId, print, signal, onProgress }) => {
    let answer;
    try {
      [answer] = await uploadFiles('clip', {
        files: [file],
        input: { clipId, ...(print && { print }) },
        signal,
        onUploadProgress: ({ loaded }) => onProgress(Math.min(loaded, file.size)),
      });
    } catch (error) {
      if (signal.aborted) throw signal.reason;
      const faults = faultsIn(error);
      if (faults.includes('already-stored')) return;
      const fault = faults.map(finalFaultOf).find((found) => found !== null) ?? null;
      throw new SendFailure(fault, 'A try to send the clip failed', { cause: error });
    }
    const fault = finalFaultOf(answer?.serverData?.fault);
    if (fault) throw new SendFailure(fault, 'The clip was turned away');
    if (!answer?.serverData?.md5) throw new SendFailure(null, 'The host did not say that the clip is kept');
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
