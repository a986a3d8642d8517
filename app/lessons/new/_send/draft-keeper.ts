import type { Answer } from '@/lib/domain/shared/result';

/** Where what was written stands: at the program, on this device only, on its way, or refused with a sentence. */
export type Keeping =
  | { kind: 'kept' }
  | { kind: 'keeping' }
  | { kind: 'kept-here' } // the network is away; it goes on by itself
  | { kind: 'refused'; message: string };

export interface KeeperSnapshot<T> {
  value: T;
  keeping: Keeping;
}

export interface DraftKeeper<T> {
  getSnapshot(): KeeperSnapshot<T>;
  subscribe(listener: () => void): () => void;
  change(next: (value: T) => T): void;
  /** Sends what an earlier page could not. Call it once the page stands. */
  start(): void;
  /** Sends what is not kept yet now; true when the program has the latest. */
  flush(): Promise<boolean>;
  /** Stops saving. What is not kept yet stays on this device. */
  dispose(): void;
}

export interface KeeperPorts<T> {
  initial: T;
  /** False when `initial` was found on this device and the program does not have it yet. */
  isKept: boolean;
  /** Keeps the value at the program. Rejects when the network is away. */
  keep(value: T): Promise<Answer<unknown>>;
  /** Keeps the value on this device, with whether the program has it. */
  keepHere(value: T, isKept: boolean): Promise<void>;
  quietMs?: number;
  /** Waiting time before the n-th try after the network failed. */
  retryMs?: (tries: number) => number;
}

/**
 * Keeps a form as it is filled: on this device at every change, at the program after a moment of quiet. The latest
 * edit wins, and one save is in flight at a time: a change during a save is sent after it, never beside it.
 */
export const createDraftKeeper = <T>(ports: KeeperPorts<T>): DraftKeeper<T> => {
  const { keep, keepHere, quietMs = 700, retryMs = (tries) => Math.min(30_000, 1_000 * 2 ** tries) } = ports;
  const listeners = new Set<() => void>();
  let snapshot: KeeperSnapshot<T> = {
    value: ports.initial,
    keeping: { kind: ports.isKept ? 'kept' : 'kept-here' },
  };
  let keptValue: T | null = ports.isKept ? ports.initial : null;
  let inFlight: Promise<void> | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let tries = 0;
  let isDisposed = false;

  const tell = (keeping: Keeping, value = snapshot.value) => {
    snapshot = { value, keeping };
    for (const listener of listeners) listener();
  };
  const isLatestKept = () => keptValue === snapshot.value;
  const later = (ms: number) => {
    clearTimeout(timer);
    if (!isDisposed) timer = setTimeout(() => void flush(), ms);
  };

  const saveOnce = async () => {
    const value = snapshot.value;
    tell({ kind: 'keeping' });
    try {
      const answer = await keep(value);
      tries = 0;
      if (!answer.ok) return tell({ kind: 'refused', message: answer.message });
      keptValue = value;
      await keepHere(snapshot.value, isLatestKept());
      tell({ kind: isLatestKept() ? 'kept' : 'keeping' });
    } catch {
      tell({ kind: 'kept-here' });
      later(retryMs(tries));
      tries += 1;
    }
  };

  const flush = async (): Promise<boolean> => {
    clearTimeout(timer);
    // A save in flight may carry an older value: wait for it, then send the latest if it is still another one.
    while (inFlight) await inFlight;
    if (isLatestKept() || isDisposed) return isLatestKept();
    inFlight = saveOnce().finally(() => {
      inFlight = null;
    });
    await inFlight;
    return isLatestKept();
  };

  return {
    getSnapshot: () => snapshot,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    change: (next) => {
      const value = next(snapshot.value);
      if (value === snapshot.value) return;
      tell({ kind: 'keeping' }, value);
      void keepHere(value, false).catch(() => undefined); // a private window may refuse; the program still keeps it
      later(quietMs);
    },
    start: () => {
      if (!isLatestKept()) later(0);
    },
    flush,
    dispose: () => {
      isDisposed = true;
      clearTimeout(timer);
    },
  };
};
