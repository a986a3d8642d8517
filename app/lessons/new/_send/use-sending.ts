'use client';

import { useRef, useState } from 'react';
import type { LessonId, PackId } from '@/lib/domain/shared/ids';
import { submitLessonAction } from '../../actions';
import type { DraftHandle } from './use-draft';

/** Sending the lesson: once at a time, safe to press again, and honest about why it did not go. */
export const useSending = (draft: DraftHandle, lessonId: LessonId, packId: PackId | null) => {
  const [sent, setSent] = useState<{ number: number; promisedAt: Date } | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isSending, setIsSending] = useState(false);
  const isBusy = useRef(false);

  const send = async (missingCount: number) => {
    if (isBusy.current) return;
    if (missingCount > 0) return setRefusal('Answer what is listed here first. Everything else is kept.');
    isBusy.current = true;
    setIsSending(true);
    setRefusal(null);
    try {
      await draft.flush(); // the lesson has to be there before it can be sent
      const answer = await submitLessonAction({ lessonId, draft: draft.value.draft, packId });
      if (!answer.ok) return setRefusal(answer.message);
      await draft.forget();
      setSent(answer.value);
    } catch {
      setRefusal(
        'There is no network right now. Everything is kept on this device; press Send again when it is back.',
      );
    } finally {
      isBusy.current = false;
      setIsSending(false);
    }
  };

  return { sent, isSending, refusal, send };
};
