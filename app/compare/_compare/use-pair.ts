'use client';

import { useEffect, useState, useSyncExternalStore } from 'react';
import { PairPlayer, type Locks, type PairSnapshot } from '@/lib/review/compare/pair-player';
import type { Player } from '@/lib/review/player/player';

const REST = { a: 0, b: 0, us: 0 };
const AT_REST: PairSnapshot = {
  mode: 'paused',
  locks: { a: 0, b: 0 },
  moments: [REST],
  index: 0,
  moment: REST,
  settled: null,
  speed: 0.25,
  loop: null,
  network: 'ok',
  fault: null,
};
const nothing = () => () => {};
const atRest = () => AT_REST;

/** The pair of two open players, locked at these frames at first; null until both are open. */
export function usePair(
  a: Player | null,
  b: Player | null,
  locks: Locks,
): { pair: PairPlayer | null; snapshot: Readonly<PairSnapshot> } {
  const [pair, setPair] = useState<PairPlayer | null>(null);
  const [first] = useState(locks);
  useEffect(() => {
    if (!a || !b) return;
    const made = new PairPlayer(a, b, first);
    setPair(made);
    return () => {
      made.dispose();
      setPair(null);
    };
  }, [a, b, first]);
  const snapshot = useSyncExternalStore(pair?.subscribe ?? nothing, pair?.getSnapshot ?? atRest, atRest);
  return { pair, snapshot };
}
