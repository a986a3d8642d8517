import type { TryOptions } from './send-file';

export interface Patience {
  /** A try without a byte of progress for so long is given up and begun anew. */
  stallMs: number;
  /** The same once all bytes are sent and only the answer is missing. */
  answerMs: number;
  firstWaitMs: number;
  longestWaitMs: number;
}

export const PATIENCE: Patience = {
  stallMs: 20_000,
  answerMs: 60_000,
  firstWaitMs: 500,
  longestWaitMs: 30_000,
};

/** A try was given up because nothing moved; the next one may get further. */
export class Stalled extends Error {
  override readonly name = 'Stalled';
}

/** One try with a watchdog: a network that swallows bytes without a word ends it too. */
export const sendWatched = async <Options extends TryOptions>(
  send: (file: File, options: Options) => Promise<void>,
  file: File,
  options: Options,
  patience: Patience,
): Promise<void> => {
  const watchdog = new AbortController();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const arm = (ms: number) => {
    clearTimeout(timer);
    timer = setTimeout(() => watchdog.abort(new Stalled('Nothing moved')), ms);
  };
  const stop = () => watchdog.abort(options.signal.reason);
  options.signal.throwIfAborted();
  options.signal.addEventListener('abort', stop);
  arm(patience.stallMs);
  try {
    await send(file, {
      ...options,
      signal: watchdog.signal,
      onProgress: (sentBytes) => {
        arm(sentBytes < file.size ? patience.stallMs : patience.answerMs);
        options.onProgress(sentBytes);
      },
    });
  } finally {
    clearTimeout(timer);
    options.signal.removeEventListener('abort', stop);
  }
};

/** How long to wait before the next try: doubling, with a spread so that many phones do not come back at once. */
export const waitBefore = (failuresInARow: number, patience: Patience, chance: number): number =>
  Math.min(patience.longestWaitMs, patience.firstWaitMs * 2 ** Math.min(failuresInARow - 1, 20)) *
  (0.5 + chance / 2);
