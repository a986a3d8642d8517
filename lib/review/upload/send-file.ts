import { genUploader } from 'uploadthing/client';
import type { FileRoute } from 'uploadthing/types';
import * as z from 'zod';

/** What every try needs, whatever is sent. */
export interface TryOptions {
  signal: AbortSignal;
  /** Bytes of the file that are on the other side, as far as this try knows. */
  onProgress: (sentBytes: number) => void;
}

/** How a try ended that reached the other side. `fault` is the closed name with which it was turned away. */
export type SendOutcome = { readonly faults: readonly string[]; readonly isStored: boolean; cause?: unknown };

type FileRouter = Record<
  string,
  FileRoute<{
    input: Record<string, unknown>;
    output: Record<string, string>;
    errorShape: { message: string; fault: string };
  }>
>;

const told = z.looseObject({ fault: z.string().optional() });

/** The closed names of reasons that an error of the SDK's client carries. */
const faultsIn = (error: unknown): string[] => {
  if (typeof error !== 'object' || error === null) return [];
  // A refused claim carries the answer as `cause`, a refused PUT as `data`.
  const bodies = ['cause' in error ? error.cause : null, 'data' in error ? error.data : null];
  return bodies.flatMap((body) => told.safeParse(body).data?.fault ?? []);
};

/**
 * Makes a sender over the SDK's client for the route `slug`. It sends one file once: asks for its address, resumes
 * from the offset that the host names, waits for the answer. Throws the signal's reason when it was stopped.
 */
export const createSendFile = <Input extends Record<string, unknown>>(
  slug: string,
  url = '/api/uploadthing',
) => {
  const { uploadFiles } = genUploader<FileRouter>({ url, package: 'cagepost' });
  return async (file: File, input: Input, { signal, onProgress }: TryOptions): Promise<SendOutcome> => {
    try {
      const [answer] = await uploadFiles(slug, {
        files: [file],
        input,
        signal,
        onUploadProgress: ({ loaded }) => onProgress(Math.min(loaded, file.size)),
      });
      const { fault, md5 } = answer?.serverData ?? {};
      return { faults: fault ? [fault] : [], isStored: !fault && Boolean(md5) };
    } catch (error) {
      if (signal.aborted) throw signal.reason;
      const faults = faultsIn(error);
      return { faults, isStored: faults.includes('already-stored'), cause: error };
    }
  };
};
