'use client';

import type { RowOutcome } from '@/lib/domain/people/invitation-rows';
import { COLUMN_WORD, COLUMNS, type WrittenRow } from '@/lib/domain/people/invitation-table';
import { toCsv } from '@/lib/domain/progress/csv';
import { SaveText } from './save-text';

export type ReportRow = WrittenRow & { outcome: RowOutcome; words: string };

/** What needs a look stands first. */
const ORDER: readonly RowOutcome[] = ['cannot', 'invite', 'invited', 'open', 'here'];
const OUTCOME_WORD = {
  cannot: 'Cannot be invited',
  invite: 'Will be invited',
  invited: 'Invited',
  open: 'Invited before, not answered yet',
  here: 'Here already',
} as const satisfies Record<RowOutcome, string>;

/** The rows as a table again, with what became of each; opens harmlessly in a table program. */
export const reportCsv = (rows: readonly ReportRow[]): string =>
  toCsv([
    ['row', ...COLUMNS.map((column) => COLUMN_WORD[column]), 'result', 'why'],
    ...rows.map((row) => [
      row.row,
      ...COLUMNS.map((column) => row[column]),
      OUTCOME_WORD[row.outcome],
      row.words,
    ]),
  ]);

/** What becomes, or became, of each row, with its number in the table. */
export const Report = ({ rows, ignored }: { rows: readonly ReportRow[]; ignored: readonly string[] }) => (
  <div className="stack">
    {ignored.length > 0 ? (
      <p className="small soft">Columns that are not read: {ignored.join(', ')}.</p>
    ) : null}
    {ORDER.map((outcome) => {
      const here = rows.filter((row) => row.outcome === outcome);
      return here.length === 0 ? null : (
        <section key={outcome}>
          <h3>
            {OUTCOME_WORD[outcome]}: {here.length}
          </h3>
          <ul className="ruled">
            {here.map((row) => (
              <li key={row.row}>
                <p>
                  <span className="num soft">Row {row.row}</span> {row.name || 'No name'}
                  {row.email ? `, ${row.email}` : ''}
                </p>
                <p className="small soft">{row.words}</p>
              </li>
            ))}
          </ul>
        </section>
      );
    })}
    <p>
      <SaveText label="Save this report as a table" name="invitations-report.csv" text={reportCsv(rows)} />
    </p>
  </div>
);
