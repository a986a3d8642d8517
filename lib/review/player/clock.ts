/** Time and turns of the screen for playing. Tests drive their own. */
export interface PlayClock {
  /** Milliseconds, rising; only differences mean anything. */
  now(): number;
  /** Calls back once, before the next picture of the screen. The returned function takes the wish back. */
  onNextTurn(callback: () => void): () => void;
  /** Calls back whenever the page is looked at again; until the returned function is called. */
  onReturn(callback: () => void): () => void;
}

/** The screen of this page. A hidden page has no turns: playing rests until it is looked at again. */
export const screenClock: PlayClock = {
  now: () => performance.now(),
  onNextTurn(callback) {
    const handle = requestAnimationFrame(() => callback());
    return () => cancelAnimationFrame(handle);
  },
  onReturn(callback) {
    const changed = () => {
      if (!document.hidden) callback();
    };
    document.addEventListener('visibilitychange', changed);
    return () => document.removeEventListener('visibilitychange', changed);
  },
};
