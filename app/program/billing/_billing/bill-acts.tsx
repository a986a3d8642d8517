'use client';

import { RecordEntry } from '@/app/_ui/record-entry';
import { recordEntryAction } from '@/app/lessons/actions';
import type { BalanceLine } from '@/lib/data/balances.read';
import { recordPackEntryAction, refundPayerAction } from '../actions';

type Props = { line: BalanceLine; kinds?: readonly ('payment' | 'waiver' | 'refund' | 'correction')[] };

/** What a lead records about one bill: of a lesson, of a pack, or what somebody paid too much. */
export const BillActs = ({ line, kinds }: Props) => {
  const { lesson, pack, payer, currency } = line;
  return (
    <RecordEntry
      currency={currency}
      account={line}
      kinds={lesson || pack ? kinds : ['refund']}
      refundMinor={line.toGiveBackMinor || undefined}
      record={async (entry) => {
        if (lesson) return recordEntryAction({ ...entry, lessonId: lesson.id });
        if (pack) return recordPackEntryAction({ ...entry, packId: pack.id });
        const { id, amountMinor, method, reason } = entry;
        return refundPayerAction({ id, amountMinor, method, reason, payerId: payer.id });
      }}
    />
  );
};
