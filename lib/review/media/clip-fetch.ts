import { CagepostError } from '@/lib/domain/shared/errors';
import type { NetworkState } from './frame-source';

/** A signed address that ran out answers one of these; a fresh one is asked for once. */
const EXPIRED = new Set([401, 403, 404, 410]);
const LONGEST_WAIT_MS = 8_000;

export interface ClipFetchOptions {
  url: string;
  /** Gives a fresh signed address, or throws when the person may no longer see the clip. */
  refreshUrl?: (signal: AbortSignal) => Promise<string>;
}

/**
 * Fetches parts of a clip from a signed address that may run out at any time and over a connection that may be
 * lost at any time. Lost: says so, tries again with growing pauses, at once when the browser is online again or
 * `retryNow` is called. Run out: asks for a fresh address once. Anything else rejects with a CagepostError.
 */
export class ClipFetch {
  private url: string;
  private refreshing: Promise<string> | null = null;
  private readonly wakers = new Set<() => void>();
  private readonly life = new AbortController();
  private readonly listeners = new Set<(state: NetworkState) => void>();
  private state: NetworkState = 'ok';

  constructor(private readonly options: ClipFetchOptions) {
    this.url = options.url;
  }

  /** The address that last worked or was last given. */
  get currentUrl(): string {
    return this.url;
  }

  /** Fits mediabunny's `fetchFn`; the first argument is replaced by the current address. */
  readonly fetch = async (_input: unknown, init?: RequestInit): Promise<Response> => {
    let hasRefreshed = false;
    for (let attempt = 0; ; attempt++) {
      const response = await this.attempt(init);
      if (response?.ok) {
        this.say('ok');
        return response;
      }
      if (response && EXPIRED.has(response.status)) {
        if (hasRefreshed || !this.options.refreshUrl) throw refused(response.status);
        hasRefreshed = true;
        await this.refresh();
      } else if (response && response.status < 500 && response.status !== 429) {
        throw refused(response.status);
      } else {
        this.say('waiting');
        await this.pause(Math.min(LONGEST_WAIT_MS, 500 * 2 ** attempt), init?.signal ?? undefined);
      }
    }
  };

  /** Asks for a fresh address; several askers at a time share one request. */
  async refresh(): Promise<string> {
    if (!this.options.refreshUrl) return this.url;
    this.refreshing ??= this.options.refreshUrl(this.life.signal).finally(() => {
      this.refreshing = null;
    });
    this.url = await this.refreshing;
    return this.url;
  }

  /** Tells each change of state until the returned function is called. */
  onNetwork(listener: (state: NetworkState) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  retryNow(): void {
    for (const wake of [...this.wakers]) wake();
  }

  dispose(): void {
    this.life.abort();
    this.listeners.clear();
    this.retryNow();
  }

  /** Null when the network itself failed. */
  private async attempt(init?: RequestInit): Promise<Response | null> {
    this.life.signal.throwIfAborted();
    try {
      return await fetch(this.url, { ...init, credentials: 'same-origin' });
    } catch (error) {
      if (init?.signal?.aborted) throw error;
      return null;
    }
  }

  private say(state: NetworkState): void {
    if (state === this.state) return;
    this.state = state;
    for (const listener of [...this.listeners]) listener(state);
  }

  private async pause(ms: number, signal?: AbortSignal): Promise<void> {
    await new Promise<void>((resolve) => {
      const done = () => {
        clearTimeout(timer);
        this.wakers.delete(done);
        removeEventListener('online', done);
        signal?.removeEventListener('abort', done);
        resolve();
      };
      const timer = setTimeout(done, ms);
      this.wakers.add(done);
      addEventListener('online', done);
      signal?.addEventListener('abort', done);
    });
    signal?.throwIfAborted();
    this.life.signal.throwIfAborted();
  }
}

const refused = (status: number) =>
  new CagepostError(
    status === 404 ? 'not-found' : 'unavailable',
    'The clip could not be loaded. What you wrote and drew is kept. Load the page again; if it stays away, tell your program.',
    { status },
  );
