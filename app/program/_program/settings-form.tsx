'use client';

import { useState } from 'react';
import { TextArea, TextField } from '@/app/_ui/field';
import { Kept } from '@/app/_ui/kept';
import { useKeep } from '@/app/_ui/use-keep';
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
  const set = (change: Partial<typeof said>) => setSaid((before) => ({ ...before, ...change }));
  const {
    kept,
    isBusy,
    submit,
    faultOf: errorOf,
  } = useKeep(() => {
    const amountMinor = parseMoney(said.amount, props.currency);
    if (amountMinor === null) {
      return {
        ok: false,
        message: 'Write the price as a number. Nothing was changed.',
        fields: { amountMinor: ['Like 35.00.'] },
      };
    }
    const { name, howToPay, priceLabel } = said;
    return updateProgramAction({
      ...{ name, howToPay, priceLabel, amountMinor },
      promiseHours: Number(said.promiseHours),
    });
  }, 'Kept. It holds for lessons sent from now on.');
  return (
    <form className="stack read" onSubmit={submit}>
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
      <Kept kept={kept} />
      <p>
        <button type="submit" className="btn do" disabled={isBusy}>
          Keep it
        </button>
      </p>
    </form>
  );
};
