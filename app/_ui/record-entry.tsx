'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { exponentOf, formatMoney, parseMoney } from '@/lib/domain/billing/money';
import { METHOD_WORD, PAY_METHODS, type PayMethod } from '@/lib/domain/billing/methods';
import { LEDGER_WORD } from '@/lib/domain/billing/words';
import type { Answer } from '@/lib/domain/shared/result';
import type { LedgerEntryId } from '@/lib/domain/shared/ids';
import { Dialog } from './dialog';
import { SelectField, TextField } from './field';
import { Notice } from './notice';

const RECORDED = ['payment', 'waiver', 'refund', 'correction'] as const;
type Recorded = (typeof RECORDED)[number];

const BUTTON = {
  payment: 'Record a payment',
  waiver: 'Waive',
  refund: 'Refund',
  correction: 'Correct',
} as const satisfies Record<Recorded, string>;

const HINT: Record<Recorded, string> = {
  payment: 'Whatever helps to find it again. May stay empty.',
  waiver: 'What does not have to be paid. The reason stays in the ledger.',
  refund: 'Record it once the money was given back. The reason stays in the ledger.',
  correction: 'The reason stays in the ledger.',
};

type Props = {
  currency: string;
  account: { receivedMinor: number; owedMinor: number };
  /** Which of the four are offered; all without it. */
  kinds?: readonly Recorded[];
  /** What is suggested for a refund, if not all that was received. */
  refundMinor?: number;
  /** Keeps the entry. Called again with the same id after a lost connection. */
  record: (entry: {
    id: LedgerEntryId;
    kind: Recorded;
    amountMinor: number;
    method: PayMethod | null;
    reason: string;
  }) => Promise<Answer<unknown>>;
};

const newId = () => crypto.randomUUID() as unknown as LedgerEntryId;

/** The buttons that record what was paid, waived, given back or corrected, each through a dialog that says what it does. */
export const RecordEntry = ({ currency, account, kinds = RECORDED, refundMinor, record }: Props) => {
  const [isOpen, setOpen] = useState(false);
  const [id, setId] = useState(newId);
  const [kind, setKind] = useState<Recorded>('payment');
  const [isLess, setLess] = useState(true);
  const [amount, setAmount] = useState('');
  const [method, setMethod] = useState<PayMethod>('transfer');
  const [reason, setReason] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const exponent = exponentOf(currency);
  const open = (next: Recorded) => {
    const suggested = next === 'refund' ? (refundMinor ?? account.receivedMinor) : account.owedMinor;
    setKind(next);
    setAmount(next !== 'correction' && suggested > 0 ? (suggested / 10 ** exponent).toFixed(exponent) : '');
    setReason('');
    setRefusal(null);
    setId(newId());
    setOpen(true);
  };
  const keep = () =>
    start(async () => {
      const typed = parseMoney(amount, currency);
      if (typed === null)
        return setRefusal(
          `Write the amount as a number, like ${(35).toFixed(exponent)}. Nothing was recorded.`,
        );
      const amountMinor = kind === 'correction' && isLess ? -typed : typed;
      const moves = kind === 'payment' || kind === 'refund';
      const entry = { id, kind, amountMinor, method: moves ? method : null, reason };
      const answer = await answerOf(
        record(entry),
        'The connection is lost. Press again in a moment: it is recorded once, whatever happens.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      router.refresh();
    });
  return (
    <>
      <p className="acts">
        {kinds.map((one) => (
          <button key={one} type="button" className="btn small" onClick={() => open(one)}>
            {BUTTON[one]}
          </button>
        ))}
      </p>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title={`${LEDGER_WORD[kind]}: record in the ledger`}
        footer={
          <button type="button" className="btn do" onClick={keep} disabled={isBusy}>
            Record it
          </button>
        }
      >
        <p className="small soft">
          Owed now: {formatMoney(account.owedMinor, currency)}. Received:{' '}
          {formatMoney(account.receivedMinor, currency)}. An entry is never changed or deleted.
        </p>
        {kind === 'correction' ? (
          <SelectField
            label="What is charged becomes"
            value={isLess ? 'less' : 'more'}
            onChange={(event) => setLess(event.target.value === 'less')}
          >
            <option value="less">less</option>
            <option value="more">more</option>
          </SelectField>
        ) : null}
        <TextField
          label={kind === 'correction' ? `By how much, in ${currency}` : `Amount in ${currency}`}
          inputMode="decimal"
          value={amount}
          onChange={(event) => setAmount(event.target.value)}
        />
        {kind === 'payment' || kind === 'refund' ? (
          <SelectField
            label="How"
            value={method}
            onChange={(event) => setMethod(event.target.value as PayMethod)}
          >
            {PAY_METHODS.map((one) => (
              <option key={one} value={one}>
                {METHOD_WORD[one]}
              </option>
            ))}
          </SelectField>
        ) : null}
        <TextField
          label={kind === 'payment' ? 'Note' : 'Why'}
          hint={HINT[kind]}
          value={reason}
          onChange={(event) => setReason(event.target.value)}
        />
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
