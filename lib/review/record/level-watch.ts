const TICK_MS = 100;
/** Below this it is taken for silence, and after so long of it the coach is told. */
const SILENCE = 0.08;
const SILENT_FOR_MS = 5000;

export interface LevelWatch {
  start(): void;
  stop(): void;
  /** Silence up to now does not count: nobody was asked to speak. */
  forgive(): void;
}

/** Reads a level ten times a second and tells whether anything was heard in the last seconds. */
export const createLevelWatch = (
  level: () => number,
  onTick: (level: number, isHeard: boolean) => void,
): LevelWatch => {
  let ticker: ReturnType<typeof setInterval> | undefined;
  let heardAt = 0;
  const stop = () => clearInterval(ticker);
  const forgive = () => {
    heardAt = performance.now();
  };
  return {
    start() {
      stop();
      forgive();
      ticker = setInterval(() => {
        const now = level();
        if (now > SILENCE) forgive();
        onTick(now, performance.now() - heardAt < SILENT_FOR_MS);
      }, TICK_MS);
    },
    stop,
    forgive,
  };
};

/** Counts whole seconds down and tells each; ends early once `isWanted` says no. */
export const countDown = async (
  ms: number,
  isWanted: () => boolean,
  tell: (secondsLeft: number) => void,
): Promise<void> => {
  const until = performance.now() + ms;
  for (let left = ms; left > 0 && isWanted(); left = until - performance.now()) {
    tell(Math.ceil(left / 1000));
    await new Promise((done) => setTimeout(done, 50));
  }
};
