import { formatMoney } from '@/lib/domain/billing/money';
import type { MonthLine } from '@/lib/data/books.read';
import css from '@/app/_ui/bill-line.module.css';

const NAMES = ['January', 'February', 'March', 'April', 'May', 'June', 'July'];
const REST = ['August', 'September', 'October', 'November', 'December'];

/** "2026-11" as "November 2026". */
const monthWords = (month: string) =>
  `${[...NAMES, ...REST][Number(month.slice(5)) - 1]} ${month.slice(0, 4)}`;

/** The totals of each month, and the way to take the whole ledger along. */
export const MonthsTable = ({ months, thisMonth }: { months: readonly MonthLine[]; thisMonth: string }) => (
  <>
    {months.length === 0 ? (
      <p>Nothing has happened with money yet.</p>
    ) : (
      <div className={css.table} tabIndex={0} role="region" aria-label="Totals by month">
        <table className="num">
          <thead>
            <tr>
              <th scope="col">Month</th>
              <th scope="col">Charged</th>
              <th scope="col">Received</th>
              <th scope="col">From packs</th>
              <th scope="col">Waived</th>
              <th scope="col">Given back</th>
            </tr>
          </thead>
          <tbody>
            {months.map((line) => (
              <tr key={`${line.month} ${line.currency}`}>
                <th scope="row">{monthWords(line.month)}</th>
                <td>{formatMoney(line.chargedMinor, line.currency)}</td>
                <td>{formatMoney(line.receivedMinor, line.currency)}</td>
                <td>{formatMoney(line.packedMinor, line.currency)}</td>
                <td>{formatMoney(line.waivedMinor, line.currency)}</td>
                <td>{formatMoney(line.refundedMinor, line.currency)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    )}
    <form className="acts" action="/api/ledger" method="get">
      <label>
        From <input className="write" type="month" name="from" defaultValue={thisMonth} required />
      </label>
      <label>
        to <input className="write" type="month" name="to" defaultValue={thisMonth} required />
      </label>
      <button type="submit" className="btn small">
        Every entry as a table (CSV)
      </button>
    </form>
  </>
);
