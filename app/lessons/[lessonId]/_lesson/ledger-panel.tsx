'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { Dialog } from '@/app/_ui/dialog';
import { SelectField, TextField } from '@/app/_ui/field';
import { Money } from '@/app/_ui/money';
import { Moment } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { recordEntryAction } from '@/app/lessons/actions';
import type { LedgerLine } from '@/lib/data/ledger.read';
import type { Account } from '@/lib/domain/billing/ledger';
import { exponentOf, parseMoney } from '@/lib/domain/billing/money';
import type { LedgerKind } from '@/lib/domain/billing/ledger';
import type { LessonId } from '@/lib/domain/shared/ids';
import css from './lesson.module.css';

type Props = {
  lessonId: LessonId;
  currency: string;
  account: Account;
  lines: readonly LedgerLine[];
  canRecord: boolean;
  now: Date;
  timeZone: string;
};

const WORD = {
  charge: 'Charge',
  payment: 'Payment',
  pack_sale: 'Pack sold',
  pack_use: 'From a pack',
  waiver: 'Waived',
  refund: 'Refund',
  correction: 'Correction',
} as const satisfies Record<LedgerKind, string>;

const RECORDED = ['payment', 'waiver', 'refund'] as const;
type Recorded = (typeof RECORDED)[number];
const HINT: Record<Recorded, string> = {
  payment: 'What was received, and how: transfer, cash, card.',
  waiver: 'What the player does not have to pay. The reason stays in the ledger.',
  refund: 'What was given back. The reason stays in the ledger.',
};

/** The ledger of a lesson, and for staff the way to record what was paid, waived or given back. Entries are never edited. */
export const LedgerPanel = ({ lessonId, currency, account, lines, canRecord, now, timeZone }: Props) => (
  <>
    {lines.length > 0 ? (
      <details className={css.ledger}>
        <summary>Every entry</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">What</th>
              <th scope="col">Amount</th>
              <th scope="col">Why</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={line.id}>
                <td>
                  <Moment at={line.at} now={now} timeZone={timeZone} as="day" />
                </td>
                <td>
                  {WORD[line.kind]}
                  {line.by ? <span className="soft"> by {line.by.name}</span> : null}
                </td>
                <td>
                  <Money minor={line.amountMinor} currency={line.currency} />
                </td>
                <td>{line.reason}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    ) : null}
    {canRecord ? <RecordEntry lessonId={lessonId} currency={currency} account={account} /> : null}
  </>
);

const RecordEntry = ({ lessonId, currency, account }: Pick<Props, 'lessonId' | 'currency' | 'account'>) => {
  const [isOpen, setOpen] = useState(false);
  const [id, setId] = useState(() => crypto.randomUUID());
  const [kind, setKind] = useState<Recorded>('payment');
  const [amount, setAmount] = useState('');
  const [reason, setReason] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const exponent = exponentOf(currency);
  const open = (next: Recorded) => {
    const suggested = next === 'refund' ? account.receivedMinor : account.owedMinor;
    setKind(next);
    setAmount(suggested > 0 ? (suggested / 10 ** exponent).toFixed(exponent) : '');
    setRefusal(null);
    setOpen(true);
  };
  const keep = () =>
    start(async () => {
      const amountMinor = parseMoney(amount, currency);
      if (amountMinor === null)
        return setRefusal(
          `Write the amount as a number, like ${(35).toFixed(exponent)}. Nothing was recorded.`,
        );
      const answer = await recordEntryAction({ id, lessonId, kind, amountMinor, reason }).catch(() => null);
      if (!answer)
        return setRefusal(
          'The connection is lost. Press again in a moment: it is recorded once, whatever happens.',
        );
      if (!answer.ok) return setRefusal(answer.message);
      setId(crypto.randomUUID());
      setReason('');
      setOpen(false);
      router.refresh();
    });
  return (
    <>
      <p className="acts">
        <button type="button" className="btn small" onClick={() => open('payment')}>
          Record a payment
        </button>
        <button type="button" className="btn small" onClick={() => open('waiver')}>
          Waive
        </button>
        <button type="button" className="btn small" onClick={() => open('refund')}>
          Refund
        </button>
      </p>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title="Record in the ledger"
        footer={
          <button type="button" className="btn do" onClick={keep} disabled={isBusy}>
            Record it
          </button>
        }
      >
        <SelectField label="What" value={kind} onChange={(event) => open(event.target.value as Recorded)}>
          {RECORDED.map((one) => (
            <option key={one} value={one}>
              {WORD[one]}
            </option>
          ))}
        </SelectField>
        <TextField
          label={`Amount in ${currency}`}
          inputMode="decimal"
          value={amount}
          onChange={(event) => setAmount(event.target.value)}
        />
        <TextField
          label="Why, or how"
          hint={HINT[kind]}
          value={reason}
          onChange={(event) => setReason(event.target.value)}
        />
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
