'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { TextArea, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { cancellationWords, type MoneyPolicy } from '@/lib/domain/billing/policy';
import { setMoneyPolicyAction } from '../actions';

/** What is agreed about money: when a charge is due, and what a withdrawn lesson costs. */
export const PolicyForm = ({ policy }: { policy: MoneyPolicy }) => {
  const [said, setSaid] = useState({
    dueDays: String(policy.dueDays),
    keptPercent: String(policy.keptPercent),
    terms: policy.terms,
  });
  const [answer, setAnswer] = useState<{ isKept: boolean; words: string } | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const set = (change: Partial<typeof said>) => setSaid((before) => ({ ...before, ...change }));
  const keptPercent = Number(said.keptPercent);
  const isShare = said.keptPercent !== '' && keptPercent >= 0 && keptPercent <= 100;
  const keep = () =>
    start(async () => {
      const input = { dueDays: Number(said.dueDays), keptPercent, terms: said.terms };
      const outcome = await setMoneyPolicyAction(input).catch(() => null);
      if (!outcome)
        return setAnswer({ isKept: false, words: 'This did not reach us. Press again in a moment.' });
      setAnswer(
        outcome.ok
          ? { isKept: true, words: 'Kept. It holds for what is bought from now on.' }
          : { isKept: false, words: outcome.message },
      );
      if (outcome.ok) router.refresh();
    });
  return (
    <form
      className="stack read"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <TextField
        label="Due, in days"
        hint="So many days after a lesson is sent or a pack is sold."
        inputMode="numeric"
        value={said.dueDays}
        onChange={(event) => set({ dueDays: event.target.value })}
      />
      <TextField
        label="Share that stays owed, in per cent"
        hint="When a lesson is withdrawn after a coach took it and before it is returned."
        inputMode="numeric"
        value={said.keptPercent}
        onChange={(event) => set({ keptPercent: event.target.value })}
      />
      {isShare ? <p className="small soft">Payers read: {cancellationWords({ keptPercent })}</p> : null}
      <TextArea
        label="More, in your own words"
        hint="Notice, no-shows, what your local rules ask. Shown before something is bought, and on the invoice."
        value={said.terms}
        onChange={(event) => set({ terms: event.target.value })}
      />
      {answer ? <Notice kind={answer.isKept ? 'done' : 'refused'}>{answer.words}</Notice> : null}
      <p>
        <button type="submit" className="btn" disabled={isBusy}>
          Keep it
        </button>
      </p>
    </form>
  );
};
