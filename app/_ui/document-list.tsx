import type { DocumentLine } from '@/lib/data/documents.read';
import { documentName } from '@/lib/domain/billing/documents';
import { Moment } from './moment';
import { Money } from './money';

type Props = { documents: readonly DocumentLine[]; now: Date; timeZone: string; withPayer?: boolean };

/** Invoices, receipts and credit notes, each a link to its PDF. */
export const DocumentList = ({ documents, now, timeZone, withPayer = false }: Props) => (
  <ul className="ruled">
    {documents.map((one) => (
      <li key={one.id}>
        <a href={`/api/documents/${one.id}`} target="_blank" rel="noopener">
          {documentName(one.kind, one.number)} (PDF)
        </a>
        , <Money minor={one.totalMinor} currency={one.currency} />
        <span className="small soft">
          {withPayer ? `, ${one.payer.name}` : ''},{' '}
          <Moment at={one.at} now={now} timeZone={timeZone} as="day" />
        </span>
      </li>
    ))}
  </ul>
);
