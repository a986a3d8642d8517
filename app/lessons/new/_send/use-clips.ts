'use client';

import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { v4 as uuid } from 'uuid';
import type { Draft } from '@/lib/domain/lessons/intake';
import { MAX_CLIPS } from '@/lib/domain/clips/clip';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { ClipCardProps } from './clip-card';
import type { ClipTools } from './clip-sender';
import { goingOf } from './going-of';
import type { RefusedFile } from './step-clip';
import { LONG_SECONDS } from './trim-range';
import { troubleWords } from './trouble-words';
import type { DraftHandle, Opened } from './use-draft';
import { useFiles } from './use-files';
import type { ClipHere } from './send-types';

/** The form's clips: picked, looked into, cut, on their way. The order and the answers live in the draft. */
export const useClips = (draft: DraftHandle, opened: Opened, stored: ClipFacts[], tools: ClipTools) => {
  const { sender } = tools;
  const queued = useSyncExternalStore(sender.subscribe, sender.getSnapshot, sender.getSnapshot);
  const clips = draft.value.draft.clips;
  const here = draft.value.here;
  const { files, put, drop } = useFiles(
    clips.map((clip) => clip.id),
    sender,
  );
  const [refused, setRefused] = useState<RefusedFile[]>([]);
  const [looking, setLooking] = useState(0);
  const [trimmingId, setTrimmingId] = useState<string | null>(null);
  const [removingId, setRemovingId] = useState<string | null>(null);
  const handing = useRef(new Set<string>());

  const describe = (clipId: string, patch: Partial<Draft['clips'][number]>, facts: Partial<ClipHere> = {}) =>
    draft.update((before) => {
      const known = before.here[clipId];
      return {
        ...before,
        draft: {
          ...before.draft,
          clips: before.draft.clips.map((clip) => (clip.id === clipId ? { ...clip, ...patch } : clip)),
        },
        here: known ? { ...before.here, [clipId]: { ...known, ...facts } } : before.here,
      };
    });

  // A clip is handed to the queue once the program knows it: the draft is kept, and the file is not waiting for a cut.
  const isKept = draft.keeping.kind === 'kept';
  useEffect(() => {
    if (!isKept) return;
    for (const { id } of clips) {
      const file = files[id];
      if (!file || here[id]?.isHeld || queued.has(id) || handing.current.has(id)) continue;
      if (stored.some((clip) => clip.id === id && clip.state !== 'expected' && clip.state !== 'uploading'))
        continue;
      handing.current.add(id);
      const name = here[id]?.name ?? 'clip';
      const whole = file instanceof File ? file : new File([file], name, { type: file.type });
      void sender
        .add({ clipId: id, lessonId: opened.lessonId, file: whole })
        .catch((error: unknown) =>
          setRefused((before) => [...before, { id: uuid(), name, reason: troubleWords(error) }]),
        )
        .finally(() => handing.current.delete(id));
    }
  }, [isKept, clips, files, here, queued, sender, stored, opened.lessonId]);

  const takeOne = async (file: File) => {
    const look = await tools.look(file);
    if (!look.ok) {
      setRefused((before) => [...before, { id: uuid(), name: file.name, reason: look.reason }]);
      return;
    }
    const clipId = uuid();
    put(clipId, file);
    const facts: ClipHere = {
      name: file.name,
      sizeBytes: file.size,
      seconds: look.seconds,
      fileRate: look.fileRate,
      isRateOpen: look.isRateOpen,
      isRateUnknown: false,
      isHeld: look.seconds > LONG_SECONDS,
      isTooLong: look.isTooLong,
    };
    draft.update((before) => {
      if (before.draft.clips.length >= MAX_CLIPS) return before;
      const clip = {
        id: clipId,
        view: null,
        captureRate: look.captureRate,
        focal35mm: look.focal35mm,
        isZoomed: null,
      };
      return {
        ...before,
        draft: { ...before.draft, clips: [...before.draft.clips, clip] },
        here: { ...before.here, [clipId]: facts },
      };
    });
  };

  const pick = (picked: File[]) => {
    const run = async () => {
      setLooking((count) => count + 1);
      for (const file of picked) {
        await takeOne(file).catch((error: unknown) =>
          setRefused((before) => [...before, { id: uuid(), name: file.name, reason: troubleWords(error) }]),
        );
      }
      setLooking((count) => count - 1);
    };
    void run();
  };

  const cut = async (startSeconds: number, endSeconds: number): Promise<string | null> => {
    const file = trimmingId ? files[trimmingId] : undefined;
    if (!trimmingId || !file)
      return 'The film is not on this device any more. Remove the clip and pick it again.';
    try {
      const short = await tools.cut(file, here[trimmingId]?.name ?? 'clip', startSeconds, endSeconds);
      const look = await tools.look(short);
      if (!look.ok) return look.reason;
      put(trimmingId, short);
      describe(
        trimmingId,
        {},
        { sizeBytes: short.size, seconds: look.seconds, isHeld: false, isTooLong: false },
      );
      setTrimmingId(null);
      return null;
    } catch (error) {
      return troubleWords(error);
    }
  };

  const remove = () => {
    const clipId = removingId;
    setRemovingId(null);
    if (!clipId) return;
    draft.update((before) => ({
      ...before,
      draft: { ...before.draft, clips: before.draft.clips.filter((clip) => clip.id !== clipId) },
      here: Object.fromEntries(Object.entries(before.here).filter(([id]) => id !== clipId)),
    }));
    void sender.remove(clipId).catch(() => undefined);
    void drop(clipId);
  };

  const cards: ClipCardProps[] = clips.map(({ id }, index) => ({
    clipId: id,
    number: index + 1,
    here: here[id] ?? null,
    going: goingOf({
      here: here[id],
      queued: queued.get(id),
      stored: stored.find((clip) => clip.id === id),
      hasFile: id in files,
    }),
    file: files[id] ?? null,
    onTrim: () => setTrimmingId(id),
    onWhole: () => describe(id, {}, { isHeld: false }),
    onPause: () => sender.pause(id),
    onResume: () => sender.resume(id),
    onRetry: (file) => sender.retry(id, file),
    onRemove: () => setRemovingId(id),
  }));

  const trimFile = trimmingId ? files[trimmingId] : undefined;
  return {
    cards,
    here,
    refused,
    isLooking: looking > 0,
    pick,
    describe,
    cut,
    remove,
    forgetRefused: (id: string) => setRefused((before) => before.filter((one) => one.id !== id)),
    trimming:
      trimmingId && trimFile
        ? {
            file: trimFile,
            seconds: here[trimmingId]?.seconds ?? 0,
            canGoWhole: !here[trimmingId]?.isTooLong,
          }
        : null,
    stopTrimming: () => setTrimmingId(null),
    sendWhole: () => {
      if (trimmingId) describe(trimmingId, {}, { isHeld: false });
      setTrimmingId(null);
    },
    removing: removingId ? { number: clips.findIndex((clip) => clip.id === removingId) + 1 } : null,
    askRemove: setRemovingId,
    pauseAll: () => clips.forEach((clip) => sender.pause(clip.id)),
    resumeAll: () => clips.forEach((clip) => sender.resume(clip.id)),
  };
};

export type Clips = ReturnType<typeof useClips>;
