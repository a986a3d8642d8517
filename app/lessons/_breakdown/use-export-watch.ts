'use client';

import { useEffect, useState } from 'react';
import * as z from 'zod';
import type { ExportId } from '@/lib/domain/shared/ids';

const ASK_EVERY_MS = 2000;

const schema = z.object({
  exports: z.array(
    z.object({
      id: z.string(),
      state: z.string(),
      progress: z.number(),
      fault: z.string().nullable(),
      url: z.string().nullable(),
    }),
  ),
});
type Watched = z.infer<typeof schema>['exports'][number];

/** How far the program is with a file; null before it is known. Asks until it is ready, failed or cancelled. */
export function useExportWatch(breakdownId: string, exportId: ExportId | null): Watched | null {
  const [watched, setWatched] = useState<Watched | null>(null);
  useEffect(() => {
    if (!exportId) return;
    let isOver = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const ask = async () => {
      const found = await fetch(`/api/breakdowns/${breakdownId}`)
        .then(async (response) => (response.ok ? schema.parse(await response.json()) : null))
        .catch(() => null); // a lost connection: asked again
      const mine = found?.exports.find((one) => one.id === exportId);
      if (isOver) return;
      if (mine) setWatched(mine);
      if (!mine || mine.state === 'waiting' || mine.state === 'working')
        timer = setTimeout(() => void ask(), ASK_EVERY_MS);
    };
    void ask();
    return () => {
      isOver = true;
      clearTimeout(timer);
    };
  }, [breakdownId, exportId]);
  return watched?.id === exportId ? watched : null;
}
