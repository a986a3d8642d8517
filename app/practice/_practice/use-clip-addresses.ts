'use client';

import { useEffect, useState } from 'react';
import * as z from 'zod';

const addressesSchema = z.object({ video: z.string(), table: z.string(), poster: z.string() });

/** Signed addresses of a clip's files for who is signed in; `away` without a network, `gone` when it is not theirs to see any more. */
export type ClipAddresses = z.infer<typeof addressesSchema> | 'asking' | 'away' | 'gone';

/** Asks where the files of a clip lie, and again when the network is back. */
export function useClipAddresses(clipId: string): ClipAddresses {
  const [addresses, setAddresses] = useState<ClipAddresses>('asking');
  useEffect(() => {
    const stop = new AbortController();
    const ask = async () => {
      const response = await fetch(`/api/clips/${clipId}/address`, { signal: stop.signal });
      if (response.ok) return addressesSchema.parse(await response.json());
      return response.status === 404 ? 'gone' : 'away';
    };
    const look = () =>
      void ask()
        .catch(() => 'away' as const)
        .then((found) => {
          if (!stop.signal.aborted) setAddresses(found);
        });
    look();
    addEventListener('online', look);
    return () => {
      stop.abort();
      removeEventListener('online', look);
    };
  }, [clipId]);
  return addresses;
}
