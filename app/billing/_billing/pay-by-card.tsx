'use client';

import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Notice } from '@/app/_ui/notice';
import type { CardPaymentId } from '@/lib/domain/shared/ids';
import { payByCardAction } from '../actions';

/** Leads to the card page for one bill. Nothing is taken before the payer confirms it there. */
export const PayByCard = ({ subject, what }: { subject: string; what: string }) => {
  // Minted once: pressed again after a lost connection, the same page opens.
  const [id] = useState(() => crypto.randomUUID() as unknown as CardPaymentId);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const pay = () =>
    start(async () => {
      setRefusal(null);
      const answer = await answerOf(
        payByCardAction({ id, subject }),
        'This did not reach us. Nothing was taken; please try again.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      window.location.assign(answer.value.url);
    });
  return (
    <>
      <button
        type="button"
        className="btn small"
        onClick={pay}
        disabled={isBusy}
        aria-label={`Pay by card: ${what}`}
      >
        Pay by card
      </button>
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
    </>
  );
};
