'use client';

import { useEffect, useState } from 'react';
import { askAddresses, type ClipAddresses } from '@/app/lessons/_swing/ask-addresses';

/** Where the files of a clip lie, or why that is not known: see `askAddresses`; `away` without a network, too. */
type Found = ClipAddresses | 'asking' | 'away' | 'gone';

/** Asks where the files of a clip lie, and again when the network is back. */
export function useClipAddresses(clipId: string): Found {
  const [found, setFound] = useState<Found>('asking');
  useEffect(() => {
    const stop = new AbortController();
    const look = () =>
      void askAddresses(clipId, stop.signal)
        .catch(() => 'away' as const)
        .then((answer) => {
          if (!stop.signal.aborted) setFound(answer);
        });
    look();
    addEventListener('online', look);
    return () => {
      stop.abort();
      removeEventListener('online', look);
    };
  }, [clipId]);
  return found;
}
