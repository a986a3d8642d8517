import type { PlayClock } from '@/lib/review/player/clock';

/** A clock that stands still until it is told to go. */
export function handClock() {
  let now = 0;
  let turns: (() => void)[] = [];
  const returns = new Set<() => void>();
  const clock: PlayClock = {
    now: () => now,
    onNextTurn(callback) {
      turns.push(callback);
      return () => (turns = turns.filter((turn) => turn !== callback));
    },
    onReturn(callback) {
      returns.add(callback);
      return () => returns.delete(callback);
    },
  };
  return {
    clock,
    get isTurning() {
      return turns.length > 0;
    },
    /** Lets time pass without a turn of the screen, as in a hidden tab. */
    pass: (ms: number) => (now += ms),
    turn(ms: number) {
      now += ms;
      const due = turns;
      turns = [];
      for (const callback of due) callback();
    },
    comeBack: () => returns.forEach((callback) => callback()),
  };
}
