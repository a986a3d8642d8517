'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { exponentOf, parseMoney } from '@/lib/domain/billing/money';
import { USUAL_VALID_DAYS } from '@/lib/domain/billing/packs';
import type { PriceLine } from '@/lib/domain/billing/prices';
import { retirePriceAction, savePriceAction } from '../actions';

type Props = { currency: string; line: PriceLine | null };

const wordsOf = (line: PriceLine | null, currency: string) => {
  const exponent = exponentOf(currency);
  return {
    label: line?.label ?? '',
    lessons: String(line?.lessons ?? 5),
    validDays: String(line?.validDays ?? USUAL_VALID_DAYS),
    amount: line ? (line.amountMinor / 10 ** exponent).toFixed(exponent) : '',
  };
};

/** Changes one line of the price list by a new version, takes a pack off it, or (without a line) adds a pack. */
export const PriceForm = ({ currency, line }: Props) => {
  const isPack = line?.kind !== 'lesson';
  const [isOpen, setOpen] = useState(false);
  const [seriesId, setSeriesId] = useState(line?.seriesId ?? '');
  const [said, setSaid] = useState(() => wordsOf(line, currency));
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const set = (change: Partial<typeof said>) => setSaid((before) => ({ ...before, ...change }));
  const open = () => {
    setSaid(wordsOf(line, currency));
    setSeriesId(line?.seriesId ?? crypto.randomUUID());
    setRefusal(null);
    setOpen(true);
  };
  const send = (work: () => ReturnType<typeof savePriceAction>) =>
    start(async () => {
      const answer = await answerOf(work(), 'This did not reach us. Press again in a moment.');
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      router.refresh();
    });
  const keep = () => {
    const amountMinor = parseMoney(said.amount, currency);
    if (amountMinor === null) {
      return setRefusal(
        `Write the price as a number, like ${(35).toFixed(exponentOf(currency))}. Nothing was changed.`,
      );
    }
    send(() =>
      savePriceAction({
        seriesId,
        kind: isPack ? 'pack' : 'lesson',
        label: said.label,
        lessons: isPack ? Number(said.lessons) : 1,
        validDays: isPack ? Number(said.validDays) : null,
        amountMinor,
      }),
    );
  };
  return (
    <>
      <button
        type="button"
        className="btn small"
        onClick={open}
        aria-label={line ? `Change ${line.label}` : undefined}
      >
        {line ? 'Change' : 'Add a pack'}
      </button>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title={line ? `Change “${line.label}”` : 'A new pack'}
        footer={
          <>
            {line && isPack ? (
              <button
                type="button"
                className="btn"
                disabled={isBusy}
                onClick={() => send(() => retirePriceAction({ seriesId }))}
              >
                Take it off the list
              </button>
            ) : null}
            <button type="button" className="btn do" onClick={keep} disabled={isBusy}>
              Keep it
            </button>
          </>
        }
      >
        <p className="small soft">
          It holds for what is bought from now on. What was bought before keeps its price and its days.
        </p>
        <TextField
          label="What it is called on the bill"
          value={said.label}
          onChange={(event) => set({ label: event.target.value })}
        />
        {isPack ? (
          <>
            <TextField
              label="Lessons in it"
              inputMode="numeric"
              value={said.lessons}
              onChange={(event) => set({ lessons: event.target.value })}
            />
            <TextField
              label="Valid for, in days"
              inputMode="numeric"
              value={said.validDays}
              onChange={(event) => set({ validDays: event.target.value })}
            />
          </>
        ) : null}
        <TextField
          label={`Price in ${currency}`}
          inputMode="decimal"
          value={said.amount}
          onChange={(event) => set({ amount: event.target.value })}
        />
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
