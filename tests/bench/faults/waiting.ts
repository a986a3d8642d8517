/** Resolves once the condition holds; throws with `what` when it has not after `patienceMs`. Asks every `everyMs`. */
export const until = (
  condition: () => boolean | Promise<boolean>,
  { what, patienceMs, everyMs = 25 }: { what: string; patienceMs: number; everyMs?: number },
): Promise<void> =>
  new Promise((resolve, reject) => {
    const begun = Date.now();
    let isAsking = false;
    const timer = setInterval(() => {
      if (isAsking) return;
      isAsking = true;
      void Promise.resolve()
        .then(condition)
        .catch(() => false)
        .then((holds) => {
          isAsking = false;
          const isLate = !holds && Date.now() - begun > patienceMs;
          if (!holds && !isLate) return;
          clearInterval(timer);
          if (holds) resolve();
          else reject(new Error(`${what}: not within ${patienceMs / 1000} s`));
        });
    }, everyMs);
  });

/** Resolves after so many milliseconds: a moment of chance, or a pause before a further try. */
export const later = (ms: number): Promise<void> => {
  const at = Date.now() + ms;
  return until(() => Date.now() >= at, { what: 'the clock', patienceMs: ms + 60_000, everyMs: 10 });
};
