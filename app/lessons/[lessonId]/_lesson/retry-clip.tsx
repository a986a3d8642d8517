'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { retryClipAction } from '@/app/lessons/actions';
import type { ClipId } from '@/lib/domain/shared/ids';

/** Prepares a stored clip once more. */
export const RetryClip = ({ clipId }: { clipId: ClipId }) => {
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const again = () =>
    start(async () => {
      const answer = await answerOf(retryClipAction({ clipId }));
      setRefusal(answer.ok ? null : answer.message);
      router.refresh();
    });
  return (
    <>
      <button type="button" className="btn small" onClick={again} disabled={isBusy}>
        Try it again
      </button>
      {refusal ? <p role="alert">{refusal}</p> : null}
    </>
  );
};
