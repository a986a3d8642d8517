'use client';

import { useEffect, useState, useSyncExternalStore } from 'react';
import type { Sheet } from '@/lib/domain/review/sheet';
import { createDraftBook } from '@/lib/review/drafts/draft-book';
import type { SaverSnapshot } from '@/lib/review/drafts/save-state';
import { createSheetSaver, type SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { httpSaveSheet } from '@/lib/review/drafts/sheet-transport';

type Kept = { sheet: Sheet; revision: number };

const atRest = (kept: Kept): SaverSnapshot => ({
  sheet: kept.sheet,
  state: { is: 'kept', at: null },
  joined: null,
});
const nothing = () => () => {};

/** Keeps the sheet of a lesson while its bench is open; null until the browser has it. */
export function useSaver(
  lessonId: string,
  viewerId: string,
  kept: Kept,
): { saver: SheetSaver | null; snapshot: SaverSnapshot } {
  const [saver, setSaver] = useState<SheetSaver | null>(null);
  // The sheet that the page came with: what is saved later must not start the saver anew.
  const [first] = useState(kept);
  const [resting] = useState(() => atRest(first));
  useEffect(() => {
    const made = createSheetSaver({
      owner: `${viewerId}/${lessonId}`,
      draftId: crypto.randomUUID(),
      server: first,
      save: httpSaveSheet(`/api/lessons/${lessonId}/sheet`),
      book: createDraftBook(),
    });
    setSaver(made);
    const leave = () => made.leave();
    addEventListener('pagehide', leave);
    return () => {
      removeEventListener('pagehide', leave);
      made.leave();
      made.dispose();
    };
  }, [lessonId, viewerId, first]);
  const snapshot = useSyncExternalStore(
    saver?.subscribe ?? nothing,
    saver?.getSnapshot ?? (() => resting),
    () => resting,
  );
  return { saver, snapshot };
}
