'use client';

import { useEffect, useMemo, useSyncExternalStore } from 'react';
import type { Draft } from '@/lib/domain/lessons/intake';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Answer } from '@/lib/domain/shared/result';
import { saveDraftAction, startLessonAction } from '../../actions';
import { createDraftKeeper, type Keeping } from './draft-keeper';
import { forgetHere, writeHere } from './here-store';
import type { ClipHere, SendSetting } from './send-types';

/** What is being filled in: the answers, what they follow, and what only this device knows of the clips. */
export interface SendValue {
  draft: Draft;
  followsId: LessonId | null;
  here: Readonly<Record<string, ClipHere>>;
}

/**
 * How the form begins. `told` is what the program was told the lesson follows, undefined while it does not know the
 * lesson; `isKept`: it has these very answers.
 */
export interface Opened {
  lessonId: LessonId;
  value: SendValue;
  told: LessonId | null | undefined;
  isKept: boolean;
}

export interface DraftHandle {
  value: SendValue;
  keeping: Keeping;
  change: (patch: Partial<Draft>) => void;
  update: (next: (value: SendValue) => SendValue) => void;
  follow: (id: LessonId | null) => void;
  flush: () => Promise<boolean>;
  /** Forgets what this device kept: after the lesson was sent. */
  forget: () => Promise<void>;
}

/** The draft with its keeper: on this device at every change, at the program after a moment of quiet and on leaving. */
export const useDraft = (setting: SendSetting, opened: Opened): DraftHandle => {
  const keeper = useMemo(() => {
    const { lessonId } = opened;
    const playerId = setting.player.id;
    const { answersId } = setting;
    // A draft from before is told again which drill it answers.
    let told = answersId ? undefined : opened.told;
    const keep = async ({ draft, followsId }: SendValue): Promise<Answer<unknown>> => {
      if (told !== followsId) {
        const started = await startLessonAction({ lessonId, playerId, followsId, answersId });
        if (!started.ok) return started;
        told = followsId;
      }
      return saveDraftAction({ lessonId, draft });
    };
    const keepHere = (value: SendValue, isKept: boolean) =>
      writeHere({ version: 1, lessonId, playerId, ...value, isKept, changedAt: Date.now() });
    return createDraftKeeper<SendValue>({
      initial: opened.value,
      isKept: opened.isKept && !answersId,
      keep,
      keepHere,
    });
  }, [opened, setting]);

  const { value, keeping } = useSyncExternalStore(keeper.subscribe, keeper.getSnapshot, keeper.getSnapshot);

  useEffect(() => {
    keeper.start();
    const flush = () => void keeper.flush();
    // Phones kill a page in the background without another word: this is the last sure moment.
    const onHide = () => document.visibilityState === 'hidden' && flush();
    document.addEventListener('visibilitychange', onHide);
    window.addEventListener('online', flush);
    return () => {
      document.removeEventListener('visibilitychange', onHide);
      window.removeEventListener('online', flush);
      flush();
    };
  }, [keeper]);

  return {
    value,
    keeping,
    change: (patch) => keeper.change((before) => ({ ...before, draft: { ...before.draft, ...patch } })),
    update: keeper.change,
    follow: (followsId) => keeper.change((before) => ({ ...before, followsId })),
    flush: keeper.flush,
    forget: async () => {
      keeper.dispose();
      await forgetHere(opened.lessonId).catch(() => undefined);
    },
  };
};
