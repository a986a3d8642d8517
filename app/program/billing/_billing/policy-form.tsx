'use client';

import { useState } from 'react';
import { TextArea, TextField } from '@/app/_ui/field';
import { Kept } from '@/app/_ui/kept';
import { useKeep } from '@/app/_ui/use-keep';
import { cancellationWords, type MoneyPolicy } from '@/lib/domain/billing/policy';
import { setMoneyPolicyAction } from '../actions';

/** What is agreed about money: when a charge is due, and what a withdrawn lesson costs. */
export const PolicyForm = ({ policy }: { policy: MoneyPolicy }) => {
  const [said, setSaid] = useState({
    dueDays: String(policy.dueDays),
    keptPercent: String(policy.keptPercent),
    terms: policy.terms,
  });
  const set = (change: Partial<typeof said>) => setSaid((before) => ({ ...before, ...change }));
  const keptPercent = Number(said.keptPercent);
  const isShare = said.keptPercent !== '' && keptPercent >= 0 && keptPercent <= 100;
  const { kept, isBusy, submit } = useKeep(
    () => setMoneyPolicyAction({ dueDays: Number(said.dueDays), keptPercent, terms: said.terms }),
    'Kept. It holds for what is bought from now on.',
  );
  return (
    <form className="stack read" onSubmit={submit}>
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
      <Kept kept={kept} />
      <p>
        <button type="submit" className="btn" disabled={isBusy}>
          Keep it
        </button>
      </p>
    </form>
  );
};
