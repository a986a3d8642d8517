'use client';

import { useCallback, useEffect, useRef, useState, useSyncExternalStore, type RefObject } from 'react';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { CagepostError } from '@/lib/domain/shared/errors';
import { isAbort } from '@/lib/review/media/frame-source';
import type { Replay, ReplaySnapshot } from '@/lib/review/replay/replay';
import { loadBreakdown, openBreakdown, type LoadedBreakdown, type OpenBreakdown } from './open-breakdown';

type Options = {
  breakdown: BreakdownOnPage;
  clips: readonly ClipOnPage[];
  checklist: Checklist;
  stage: RefObject<HTMLElement | null>;
  /** Whether how far it was watched is kept. */
  isKept: boolean;
};

export interface BreakdownHandle {
  loaded: LoadedBreakdown | null;
  /** Why it cannot be loaded; a sentence. */
  fault: string | null;
  /** Null until it is first played or looked into. */
  snapshot: Readonly<ReplaySnapshot> | null;
  /** The replay, opened if need be; null before the timeline is there. To be called from a press or a key. */
  open: (atMs?: number) => Replay | null;
  reload: () => void;
}

const nothing = () => () => {};
const none = () => null;

/** One breakdown of a page: its timeline is loaded at once, voice and frames when somebody wants to see it. */
export function useBreakdown({ breakdown, clips, checklist, stage, isKept }: Options): BreakdownHandle {
  const [loaded, setLoaded] = useState<LoadedBreakdown | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [turn, setTurn] = useState(0);
  const [opened, setOpened] = useState<OpenBreakdown | null>(null);
  const held = useRef<OpenBreakdown | null>(null);
  // A refresh of the page signs new addresses; what is open keeps the one it has.
  const newest = useRef({ breakdown, clips, checklist });
  useEffect(() => {
    newest.current = { breakdown, clips, checklist };
  });

  const { id, takeKey } = { id: breakdown.id, takeKey: breakdown.timelineFile };
  useEffect(() => {
    const stop = new AbortController();
    const now = newest.current;
    loadBreakdown(now.breakdown, now.clips, now.checklist, stop.signal)
      .then((value) => {
        if (stop.signal.aborted) return;
        setFault(null);
        setLoaded(value);
      })
      .catch((error: unknown) => {
        if (stop.signal.aborted || isAbort(error)) return;
        setFault(
          error instanceof CagepostError
            ? error.forPeople
            : 'The breakdown could not be read. Everything else on this page works.',
        );
      });
    return () => {
      stop.abort();
      held.current?.dispose();
      held.current = null;
      setOpened(null);
      setLoaded(null);
    };
  }, [id, takeKey, turn]);

  const open = useCallback(
    (atMs?: number) => {
      if (!loaded || !stage.current) return held.current?.replay ?? null;
      if (!held.current) {
        const now = newest.current;
        const { own } = now.breakdown;
        const startMs = atMs ?? (own && !own.isDone ? own.positionMs : 0);
        held.current = openBreakdown({
          ...now,
          loaded,
          stage: stage.current,
          startMs,
          onProgress: ({ ms, isOver }) => {
            if (isKept) keepWatched(now.breakdown.id, ms, isOver);
          },
        });
        setOpened(held.current);
      } else if (atMs !== undefined) held.current.replay.seek(atMs);
      return held.current.replay;
    },
    [loaded, stage, isKept],
  );

  const snapshot = useSyncExternalStore<Readonly<ReplaySnapshot> | null>(
    opened?.replay.subscribe ?? nothing,
    opened?.replay.getSnapshot ?? none,
    none,
  );
  const reload = useCallback(() => setTurn((before) => before + 1), []);
  return { loaded, fault, snapshot, open, reload };
}

/** Told in passing: a page that is being left must not wait for it. */
const keepWatched = (breakdownId: string, ms: number, isDone: boolean) => {
  void fetch(`/api/breakdowns/${breakdownId}/watched`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ positionMs: Math.round(ms), isDone }),
    keepalive: true,
  }).catch(() => {});
};
