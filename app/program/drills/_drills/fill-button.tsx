'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Notice } from '@/app/_ui/notice';
import { fillDrillsAction } from '../actions';

/** Puts the drills that come with the product into the library. */
export const FillButton = () => {
  const router = useRouter();
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const fill = () =>
    start(async () => {
      const answer = await answerOf(fillDrillsAction({}), 'The connection is lost. Press again.');
      setRefusal(answer.ok ? null : answer.message);
      if (answer.ok) router.refresh();
    });
  return (
    <>
      <button type="button" className="btn do" onClick={fill} disabled={isBusy}>
        Put them in
      </button>
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
    </>
  );
};
