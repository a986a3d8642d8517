'use client';

import { createContext, useContext, useEffect, useState, useSyncExternalStore, type ReactNode } from 'react';
import { momentOfFragment } from '@/lib/domain/breakdowns/moment-link';

/** A moment of a breakdown on this page, in milliseconds. */
export interface Moment {
  breakdownId: string;
  title: string;
  ms: number;
}

/** Goes to a moment of one breakdown; from a press it may also play. */
type GoTo = (ms: number, canPlay: boolean) => void;

/** Which breakdowns stand on the page, and where the one that was looked at last is. */
class Moments {
  private readonly players = new Map<string, GoTo>();
  private readonly listeners = new Set<() => void>();
  private here: Moment | null = null;
  /** Asked for before its breakdown was loaded. */
  private wish: { breakdownId: string; ms: number; canPlay: boolean } | null = null;

  readonly subscribe = (listener: () => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };
  readonly getHere = (): Moment | null => this.here;

  join(breakdownId: string, goTo: GoTo): () => void {
    this.players.set(breakdownId, goTo);
    const { wish } = this;
    if (wish?.breakdownId === breakdownId) {
      this.wish = null;
      goTo(wish.ms, wish.canPlay);
    }
    return () => this.players.delete(breakdownId);
  }

  tell(moment: Moment): void {
    const { here } = this;
    if (here?.breakdownId === moment.breakdownId && here.ms === moment.ms && here.title === moment.title)
      return;
    this.here = moment;
    for (const listener of [...this.listeners]) listener();
  }

  /** False when that breakdown is not on the page or not loaded yet; then it is gone to once it is. */
  goTo(breakdownId: string | null, ms: number, canPlay: boolean): boolean {
    const goTo = breakdownId ? this.players.get(breakdownId) : [...this.players.values()][0];
    this.wish = goTo || !breakdownId ? null : { breakdownId, ms, canPlay };
    goTo?.(ms, canPlay);
    return goTo !== undefined;
  }
}

const Board = createContext<Moments | null>(null);

/** Lets the parts of a page reach its breakdowns by moment: replies, links, the search through what was said. */
export const MomentsOf = ({ children }: { children: ReactNode }) => {
  const [board] = useState(() => new Moments());
  return <Board value={board}>{children}</Board>;
};

const nothing = () => () => {};
const none = () => null;

/** The moment that was looked at last, to the second; null before a breakdown was opened. */
export const useMomentHere = (): Moment | null => {
  const board = useContext(Board);
  return useSyncExternalStore(board?.subscribe ?? nothing, board?.getHere ?? none, none);
};

/** Goes to a moment of a breakdown of this page; false when it is not here. */
export const useGoToMoment = () => {
  const board = useContext(Board);
  return (breakdownId: string, ms: number) => board?.goTo(breakdownId, ms, true) ?? false;
};

/**
 * Makes a breakdown reachable: `goTo` must be the same function until it changes its meaning. An address that names
 * the breakdown (`?b=`) or, on the first one, only a moment (`#t=`) leads to it once `isReady`.
 */
export const useJoinMoments = (of: {
  breakdownId: string;
  title: string;
  isFirst: boolean;
  isReady: boolean;
  /** Null before it is open. */
  ms: number | null;
  goTo: GoTo;
}) => {
  const board = useContext(Board);
  const { breakdownId, title, isFirst, isReady, goTo } = of;
  useEffect(
    () => (isReady ? board?.join(breakdownId, goTo) : undefined),
    [board, breakdownId, goTo, isReady],
  );

  const second = of.ms === null ? null : Math.floor(of.ms / 1000) * 1000;
  useEffect(() => {
    if (second !== null) board?.tell({ breakdownId, title, ms: second });
  }, [board, breakdownId, title, second]);

  useEffect(() => {
    if (!isReady) return;
    const follow = () => {
      const named = new URL(location.href).searchParams.get('b');
      const ms = momentOfFragment(location.hash);
      if (ms !== null && (named ? named === breakdownId : isFirst)) goTo(ms, false);
    };
    follow();
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, [breakdownId, isFirst, isReady, goTo]);
};
