'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { TextArea, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { parseMoney } from '@/lib/domain/billing/money';
import { updateProgramAction } from '../actions';

type Props = {
  name: string;
  promiseHours: number;
  howToPay: string;
  priceLabel: string;
  amount: string;
  currency: string;
};

/** The lead's settings. They hold for lessons sent from now on; those already sent keep what they were sent under. */
export const SettingsForm = (props: Props) => {
  const [said, setSaid] = useState({ ...props, promiseHours: String(props.promiseHours) });
  const [answer, setAnswer] = useState<{
    isKept: boolean;
    words: string;
    fields?: Record<string, string[]>;
  } | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const set = (change: Partial<typeof said>) => setSaid((before) => ({ ...before, ...change }));
  const keep = () =>
    start(async () => {
      const amountMinor = parseMoney(said.amount, props.currency);
      if (amountMinor === null) {
        return setAnswer({
          isKept: false,
          words: 'Write the price as a number. Nothing was changed.',
          fields: { amountMinor: ['Like 35.00.'] },
        });
      }
      const { name, howToPay, priceLabel } = said;
      const outcome = await updateProgramAction({
        name,
        howToPay,
        priceLabel,
        amountMinor,
        promiseHours: Number(said.promiseHours),
      });
      if (!outcome.ok) return setAnswer({ isKept: false, words: outcome.message, fields: outcome.fields });
      setAnswer({ isKept: true, words: 'Kept. It holds for lessons sent from now on.' });
      router.refresh();
    });
  const errorOf = (field: string) => answer?.fields?.[field]?.[0];
  return (
    <form
      className="stack read"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <TextField
        label="Name"
        value={said.name}
        error={errorOf('name')}
        onChange={(event) => set({ name: event.target.value })}
      />
      <TextField
        label="Promise, in hours"
        hint="An answer comes within so many hours after a lesson is sent; working hours, where the program has them."
        inputMode="numeric"
        value={said.promiseHours}
        error={errorOf('promiseHours')}
        onChange={(event) => set({ promiseHours: event.target.value })}
      />
      <TextField
        label="What a lesson is called on the bill"
        value={said.priceLabel}
        error={errorOf('priceLabel')}
        onChange={(event) => set({ priceLabel: event.target.value })}
      />
      <TextField
        label={`Price in ${props.currency}`}
        hint="Zero means no charge."
        inputMode="decimal"
        value={said.amount}
        error={errorOf('amountMinor')}
        onChange={(event) => set({ amount: event.target.value })}
      />
      <TextArea
        label="How to pay"
        hint="Shown to whoever owes something."
        value={said.howToPay}
        error={errorOf('howToPay')}
        onChange={(event) => set({ howToPay: event.target.value })}
      />
      {answer ? <Notice kind={answer.isKept ? 'done' : 'refused'}>{answer.words}</Notice> : null}
      <p>
        <button type="submit" className="btn do" disabled={isBusy}>
          Keep it
        </button>
      </p>
    </form>
  );
};
