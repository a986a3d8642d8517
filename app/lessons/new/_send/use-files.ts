'use client';

import { useCallback, useEffect, useState } from 'react';
import type { ClipSender } from './clip-sender';
import { forgetFileHere, keepFileHere, readFileHere } from './here-store';

/**
 * The files of the form's clips while this browser has them: those that wait for a cut or for the draft to be kept,
 * and those that the queue carries. They lie in IndexedDB, so that a reload asks for nothing again.
 */
export const useFiles = (clipIds: readonly string[], sender: ClipSender) => {
  const [files, setFiles] = useState<Readonly<Record<string, Blob>>>({});
  const [isRead, setIsRead] = useState(false);
  const wanted = clipIds.join(' ');

  useEffect(() => {
    let isStale = false;
    const read = async () => {
      const ids = wanted.split(' ').filter(Boolean);
      const found = await Promise.all(
        ids.map(async (id) => [id, (await readFileHere(id)) ?? (await sender.fileOf(id))] as const),
      );
      if (isStale) return;
      setFiles((before) => ({
        ...Object.fromEntries(found.flatMap(([id, file]) => (file ? [[id, file]] : []))),
        ...before,
      }));
      setIsRead(true);
    };
    void read();
    return () => {
      isStale = true;
    };
  }, [wanted, sender]);

  const put = useCallback((clipId: string, file: Blob) => {
    setFiles((before) => ({ ...before, [clipId]: file }));
    // Not awaited: a large film takes a while to copy, and nothing on the page has to wait for it. Without IndexedDB
    // (some private windows) the clip still goes up; only a reload would ask for it again.
    void keepFileHere(clipId, file).catch(() => undefined);
  }, []);
  const drop = useCallback(async (clipId: string) => {
    setFiles((before) => Object.fromEntries(Object.entries(before).filter(([id]) => id !== clipId)));
    await forgetFileHere(clipId).catch(() => undefined);
  }, []);

  return { files, isRead, put, drop };
};
