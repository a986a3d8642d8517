import { PART_TYPE, type PartHead } from '@/lib/domain/breakdowns/timeline';
import { writePart } from '@/lib/domain/breakdowns/parse-part';
import { partPrint } from '@/lib/domain/breakdowns/part-print';
import { SnapshotStore } from '../player/snapshot-store';
import { PATIENCE, sendWatched, waitBefore, type Patience } from '../upload/patience';
import { createSendFile, type TryOptions } from '../upload/send-file';

/** Why parts are not on their way. `network` and `room` go on by themselves, `signed-out` and `paused-by` once asked. */
export type SendTrouble = 'network' | 'room' | 'signed-out' | 'paused-by' | 'not-yours' | 'broken';

const TROUBLE_SENTENCE: Readonly<Record<SendTrouble, string>> = {
  network: 'The connection is lost. The take is kept on this device and sent by itself.',
  room: 'There is no room on our side just now. The take is kept on this device and sent by itself.',
  'signed-out': 'You are signed out. The take is kept on this device. Sign in again, and it goes on.',
  'paused-by':
    'A guardian has paused contact with this player. The take is kept on this device, nothing of it was sent on.',
  'not-yours':
    'The server takes no more of this breakdown: it was kept or removed already, or the lesson is with another coach. The take is still on this device.',
  broken:
    'The server could not read a part of this take and did not take it. The take is still on this device.',
};

/** The sentence for the coach: what was kept and what happens next. */
export const sentenceOfTrouble = (trouble: SendTrouble): string => TROUBLE_SENTENCE[trouble];

const BROKEN = new Set(['conflict', 'too-large', 'empty', 'unsupported', 'not-a-part', 'type-mismatch']);

/** What a closed name that the server gave means for sending; names that pass by themselves mean the network. */
export const troubleOf = (faults: readonly string[]): SendTrouble => {
  if (faults.includes('not-signed-in')) return 'signed-out';
  if (faults.includes('safeguarding')) return 'paused-by';
  if (faults.includes('not-found') || faults.includes('wrong-state')) return 'not-yours';
  if (faults.some((fault) => BROKEN.has(fault))) return 'broken';
  return faults.includes('disk-full') || faults.includes('storage-full') ? 'room' : 'network';
};
const passes = (trouble: SendTrouble) => trouble === 'network' || trouble === 'room';

export interface PartInput extends Record<string, unknown> {
  breakdownId: string;
  segmentId: string;
  number: number;
  print?: string;
}

interface PartOptions extends TryOptions {
  input: PartInput;
}

/** A try that ended without the part being stored. */
export class PartFailure extends Error {
  override readonly name = 'PartFailure';
  constructor(readonly trouble: SendTrouble) {
    super(`A part was not stored: ${trouble}`);
  }
}

/** Sends one part once; throws `PartFailure` when it was not stored. */
export type SendPart = (file: File, options: PartOptions) => Promise<void>;

/** Makes the sender of parts; `url` is the path of the upload route. */
export const createSendPart = (url?: string): SendPart => {
  const send = createSendFile<PartInput>('part', url);
  return async (file, { input, ...trying }) => {
    const { faults, isStored } = await send(file, input, trying);
    if (!isStored) throw new PartFailure(troubleOf(faults));
  };
};

export interface SenderSnapshot {
  readonly made: number;
  readonly sent: number;
  readonly trouble: SendTrouble | null;
}

export interface PartSender {
  getSnapshot(): Readonly<SenderSnapshot>;
  subscribe(listener: () => void): () => void;
  /** Lines a part up. The same part again is not sent twice. */
  add(head: Omit<PartHead, 'voiceBytes'>, voice: Uint8Array): void;
  /** Counts a part that the server has from an earlier page. */
  noteSent(segmentId: string, number: number): void;
  /** Forgets that the server has these parts: they are sent again when they are added again. */
  forget(segmentId: string, numbers: readonly number[]): void;
  /** Resolves true once everything is sent, false when it will not go on by itself. */
  settled(): Promise<boolean>;
  /** Tries again at once, also after trouble that does not pass by itself. */
  retry(): void;
  dispose(): void;
}

/**
 * Brings the parts of one breakdown to the server, one at a time and in order, while the coach talks. `begin` tells
 * the server of the breakdown first; it throws `PartFailure` when it is refused.
 */
export const createPartSender = (options: {
  breakdownId: string;
  begin: () => Promise<void>;
  send?: SendPart;
  patience?: Patience;
  onSent?: (segmentId: string, number: number) => void;
  chance?: () => number;
}): PartSender => {
  const send = options.send ?? createSendPart();
  const patience = options.patience ?? PATIENCE;
  const store = new SnapshotStore<SenderSnapshot>({ made: 0, sent: 0, trouble: null });
  const known = new Map<string, 'waiting' | 'sent'>();
  let queue: { key: string; segmentId: string; number: number; file: File }[] = [];
  let hasBegun = false;
  let failures = 0;
  let running: AbortController | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isDisposed = false;
  let waiting: ((isSent: boolean) => void)[] = [];

  const keyOf = (segmentId: string, number: number) => `${segmentId}/${number}`;
  const count = () =>
    store.set({ made: known.size, sent: [...known.values()].filter((state) => state === 'sent').length });
  const tellWaiting = () => {
    const { trouble } = store.getSnapshot();
    const isOver = queue.length === 0 || (trouble !== null && !passes(trouble));
    if (!isOver || running) return;
    for (const resolve of waiting) resolve(queue.length === 0);
    waiting = [];
  };

  const one = async (signal: AbortSignal) => {
    if (!hasBegun) await options.begin();
    hasBegun = true;
    const [part] = queue;
    if (!part) return;
    const { segmentId, number, file } = part;
    // Without a print it goes as well: what cannot be read is for the server to refuse, in its words.
    const print = await partPrint(new Uint8Array(await file.arrayBuffer())).catch(() => undefined);
    const input = { breakdownId: options.breakdownId, segmentId, number, ...(print && { print }) };
    await sendWatched(send, file, { input, signal, onProgress: () => undefined }, patience);
    queue = queue.filter((other) => other !== part);
    known.set(part.key, 'sent');
    options.onSent?.(segmentId, number);
  };

  const pump = async () => {
    clearTimeout(timer);
    if (running || isDisposed) return;
    running = new AbortController();
    const { signal } = running;
    try {
      while (queue.length > 0 && !signal.aborted) {
        await one(signal);
        failures = 0;
        store.set({ trouble: null });
        count();
      }
    } catch (error) {
      if (isDisposed) return;
      const trouble = error instanceof PartFailure ? error.trouble : 'network';
      store.set({ trouble });
      failures++;
      if (passes(trouble))
        timer = setTimeout(
          () => void pump(),
          waitBefore(failures, patience, (options.chance ?? Math.random)()),
        );
    } finally {
      running = null;
      tellWaiting();
    }
  };
  const wake = () => {
    const { trouble } = store.getSnapshot();
    if (trouble && (passes(trouble) || trouble === 'signed-out')) void pump();
  };
  const wakeWhenSeen = () => {
    if (document.visibilityState === 'visible') wake();
  };
  addEventListener('online', wake);
  document.addEventListener('visibilitychange', wakeWhenSeen);

  return {
    getSnapshot: store.getSnapshot,
    subscribe: store.subscribe,
    add(head, voice) {
      const key = keyOf(head.segmentId, head.number);
      if (known.has(key)) return;
      known.set(key, 'waiting');
      const name = `${head.segmentId}-${head.number}.part`;
      const file = new File([writePart(head, voice)], name, { type: PART_TYPE });
      queue.push({ key, segmentId: head.segmentId, number: head.number, file });
      count();
      const { trouble } = store.getSnapshot();
      if (!trouble) void pump();
    },
    noteSent(segmentId, number) {
      known.set(keyOf(segmentId, number), 'sent');
      count();
    },
    forget(segmentId, numbers) {
      for (const number of numbers) known.delete(keyOf(segmentId, number));
      count();
    },
    settled: () =>
      new Promise((resolve) => {
        waiting.push(resolve);
        tellWaiting();
      }),
    retry: () => {
      failures = 0;
      store.set({ trouble: null });
      void pump();
    },
    dispose() {
      isDisposed = true;
      clearTimeout(timer);
      running?.abort(new DOMException('The page goes', 'AbortError'));
      removeEventListener('online', wake);
      document.removeEventListener('visibilitychange', wakeWhenSeen);
      for (const resolve of waiting) resolve(false);
      waiting = [];
      store.clear();
    },
  };
};
