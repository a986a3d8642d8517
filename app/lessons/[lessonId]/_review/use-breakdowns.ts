'use client';

import { useCallback, useEffect, useState } from 'react';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';

/** How often the server is asked while it puts a breakdown together. */
const POLL_MS = 3000;

export interface LessonBreakdowns {
  /** Null before they are known. */
  breakdowns: readonly BreakdownOnPage[] | null;
  refresh: () => void;
}

/** The breakdowns of a lesson, asked for again while one of them is still being put together. */
export function useBreakdowns(lessonId: string): LessonBreakdowns {
  const [breakdowns, setBreakdowns] = useState<readonly BreakdownOnPage[] | null>(null);
  const [turn, setTurn] = useState(0);
  const refresh = useCallback(() => setTurn((before) => before + 1), []);
  useEffect(() => {
    const stop = new AbortController();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const ask = async () => {
      try {
        const response = await fetch(`/api/lessons/${lessonId}/breakdowns`, { signal: stop.signal });
        if (!response.ok) return;
        const { breakdowns: found } = (await response.json()) as { breakdowns: BreakdownOnPage[] };
        setBreakdowns(found);
        if (found.some((one) => one.state === 'assembling')) timer = setTimeout(() => void ask(), POLL_MS);
      } catch {
        // The connection is lost: what is known stands, and the next look asks again.
      }
    };
    void ask();
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [lessonId, turn]);
  return { breakdowns, refresh };
}
