'use client';

import { RecordEntry } from '@/app/_ui/record-entry';
import { GiveBack } from './give-back';
import { Money } from '@/app/_ui/money';
import { Moment } from '@/app/_ui/moment';
import { recordEntryAction } from '@/app/lessons/actions';
import type { LedgerLine } from '@/lib/data/ledger.read';
import type { Account } from '@/lib/domain/billing/ledger';
import { METHOD_WORD } from '@/lib/domain/billing/methods';
import { LEDGER_WORD } from '@/lib/domain/billing/words';
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
                  {line.takesBackId ? 'Given back to the pack' : LEDGER_WORD[line.kind]}
                  {line.method ? (
                    <span className="soft">, {METHOD_WORD[line.method].toLowerCase()}</span>
                  ) : null}
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
    {canRecord && account.status === 'from_pack' ? <GiveBack lessonId={lessonId} /> : null}
    {canRecord ? (
      <RecordEntry
        currency={currency}
        account={account}
        record={async (entry) => recordEntryAction({ ...entry, lessonId })}
      />
    ) : null}
  </>
);
