import { openAsBlob } from 'node:fs';
import { CagepostError } from '@/lib/domain/shared/errors';
import { MAX_VTT_CHARS } from '@/lib/domain/captions/cue';
import type { Captioner } from '@/lib/workflows/ports';

export interface CaptionsSettings {
  /** Where the service takes audio (POST, with its media type) and answers WebVTT. */
  url: string;
  /** Sent as a bearer token (RFC 6750) when the service wants one. */
  token?: string | undefined;
  timeoutMs?: number;
  fetch?: typeof fetch;
}

/** Ten minutes of voice take a small machine some minutes to write down. */
const TIMEOUT_MS = 10 * 60 * 1000;

const failed = (sentence: string, detail: Record<string, unknown>, cause?: unknown) =>
  new CagepostError('unavailable', sentence, detail, { cause });

const textOf = async (answer: Response): Promise<string> => {
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  for await (const chunk of answer.body ?? []) {
    bytes += chunk.byteLength;
    // Four bytes are the most that UTF-8 takes for a character; what is longer is not read to its end.
    if (bytes > 4 * MAX_VTT_CHARS)
      throw failed('The speech service answered more than captions can be.', { bytes });
    chunks.push(chunk);
  }
  return new TextDecoder().decode(Buffer.concat(chunks));
};

/** The Captioner port over a web address: any speech service that takes audio and answers WebVTT. */
export const createCaptioner = (settings: CaptionsSettings): Captioner => ({
  async transcribe({ path, type }) {
    const signal = AbortSignal.timeout(settings.timeoutMs ?? TIMEOUT_MS);
    try {
      const answer = await (settings.fetch ?? fetch)(settings.url, {
        method: 'POST',
        body: await openAsBlob(path, { type }),
        headers: {
          'content-type': type,
          accept: 'text/vtt',
          ...(settings.token ? { authorization: `Bearer ${settings.token}` } : {}),
        },
        // A voice is not to be sent to wherever a stranger points.
        redirect: 'error',
        signal,
      });
      if (!answer.ok) {
        await answer.body?.cancel();
        throw failed('The speech service refused the voice.', { status: answer.status });
      }
      return await textOf(answer);
    } catch (error) {
      if (error instanceof CagepostError) throw error;
      const sentence = signal.aborted
        ? 'The speech service took too long.'
        : 'The speech service does not answer.';
      throw failed(sentence, {}, error);
    }
  },
});
