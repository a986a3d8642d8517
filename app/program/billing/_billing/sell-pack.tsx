'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { SelectField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { formatMoney } from '@/lib/domain/billing/money';
import type { PriceLine } from '@/lib/domain/billing/prices';
import type { PackId, PersonId } from '@/lib/domain/shared/ids';
import { sellPackAction } from '../actions';

type Props = { payers: readonly { id: PersonId; name: string }[]; prices: readonly PriceLine[] };

const newId = () => crypto.randomUUID() as unknown as PackId;

/** Sells a pack: who, which one, and what that means, before it is done. */
export const SellPack = ({ payers, prices }: Props) => {
  const [isOpen, setOpen] = useState(false);
  const [id, setId] = useState(newId);
  const [payerId, setPayer] = useState(payers[0]?.id ?? null);
  const [priceId, setPrice] = useState(prices[0]?.id ?? null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const price = prices.find((one) => one.id === priceId);
  const payer = payers.find((one) => one.id === payerId);
  const open = () => {
    setId(newId());
    setPayer(payers[0]?.id ?? null);
    setPrice(prices[0]?.id ?? null);
    setRefusal(null);
    setOpen(true);
  };
  const sell = () =>
    start(async () => {
      if (!payer || !price) return;
      const answer = await answerOf(
        sellPackAction({ id, payerId: payer.id, priceId: price.id }),
        'The connection is lost. Press again in a moment: it is sold once, whatever happens.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      router.refresh();
    });
  return (
    <>
      <p className="acts">
        <button type="button" className="btn" onClick={open}>
          Sell a pack
        </button>
      </p>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title="Sell a pack"
        footer={
          <button type="button" className="btn do" onClick={sell} disabled={isBusy}>
            Sell it
          </button>
        }
      >
        <SelectField
          label="To"
          value={payerId ?? ''}
          onChange={(event) => setPayer(event.target.value as unknown as PersonId)}
        >
          {payers.map((one) => (
            <option key={one.id} value={one.id}>
              {one.name}
            </option>
          ))}
        </SelectField>
        <SelectField
          label="Pack"
          value={priceId ?? ''}
          onChange={(event) => setPrice(prices.find((one) => one.id === event.target.value)?.id ?? null)}
        >
          {prices.map((one) => (
            <option key={one.id} value={one.id}>
              {one.label}: {one.lessons} lessons, {formatMoney(one.amountMinor, one.currency)}
            </option>
          ))}
        </SelectField>
        {payer && price ? (
          <p className="small soft">
            {payer.name} will owe {formatMoney(price.amountMinor, price.currency)} and is sent the invoice.
            The pack can be used at once, for {price.validDays} days, by {payer.name} and the players they
            stand beside.
          </p>
        ) : null}
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
