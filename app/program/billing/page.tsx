import type { Metadata } from 'next';
import Form from 'next/form';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { BillLine, billWords } from '@/app/_ui/bill-line';
import { DocumentList } from '@/app/_ui/document-list';
import { Money } from '@/app/_ui/money';
import { MoreLink, oneOf as one, type PageQuery } from '@/app/_ui/more-link';
import { Moment } from '@/app/_ui/moment';
import { PackLine } from '@/app/_ui/pack-line';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listOwed, listToGiveBack } from '@/lib/data/balances.read';
import { listMonths } from '@/lib/data/books.read';
import { listDocuments } from '@/lib/data/documents.read';
import { listPacks, type PackOnPage } from '@/lib/data/packs.read';
import { listPayers } from '@/lib/data/payers.read';
import { listOldPrices, listPrices } from '@/lib/data/prices.read';
import { dayIn } from '@/lib/domain/people/age';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { BillActs } from './_billing/bill-acts';
import { MonthsTable } from './_billing/months-table';
import { PolicyForm } from './_billing/policy-form';
import { PriceForm } from './_billing/price-form';
import { SellPack } from './_billing/sell-pack';

export const metadata: Metadata = { title: 'Billing' };

type Props = { searchParams: Promise<PageQuery> };

/** For the lead: who owes what since when, what is to be given back, packs, totals by month, prices and what is agreed. */
export default async function ProgramBillingPage({ searchParams }: Props) {
  const viewer = await requireViewer('/program/billing');
  if (!isLead(viewer)) redirect(isStaff(viewer) ? '/program' : '/billing');
  const query = await searchParams;
  const { after, packs: packsAfter, months: monthsAfter, documents: documentsAfter, payer } = query;
  const find = one(payer)?.trim() ?? '';
  const frame = await pageFrame(viewer);
  const { program, now, timeZone } = frame;
  const [owed, toGiveBack, packs, payers, prices, oldPrices, months, documents] = await Promise.all([
    listOwed(viewer, { after: one(after) }),
    listToGiveBack(viewer),
    listPacks(viewer, 'program', { after: one(packsAfter) }),
    listPayers(viewer, now, find),
    listPrices(viewer),
    listOldPrices(viewer),
    listMonths(viewer, { after: one(monthsAfter) }),
    listDocuments(viewer, 'program', { after: one(documentsAfter) }),
  ]);
  const packPrices = prices.filter((line) => line.kind === 'pack');
  const time = { now, timeZone };
  return (
    <>
      <FrameBar frame={frame} current="program" isReading />
      <Page>
        <PageHead title="Billing" over={<Link href="/program">{program.name}</Link>} />
        <Row label="Owed" id="owed">
          {owed.rows.length === 0 ? <p>{after ? 'Nothing more is owed.' : 'Nothing is owed.'}</p> : null}
          <ul className={owed.rows.length > 0 ? 'ruled' : undefined}>
            {owed.rows.map((line) => (
              <BillLine key={line.subject} line={line} {...time} withPayer>
                <BillActs line={line} />
              </BillLine>
            ))}
          </ul>
          <MoreLink page="/program/billing" list="after" next={owed.next} query={query} at="owed">
            More that is owed
          </MoreLink>
        </Row>
        {toGiveBack.length > 0 ? (
          <Row label="To give back">
            <ul className="ruled">
              {toGiveBack.map((line) => (
                <li key={line.subject}>
                  <p>
                    <Money minor={line.toGiveBackMinor} currency={line.currency} /> to {line.payer.name},{' '}
                    {line.lesson ? (
                      <Link href={`/lessons/${line.lesson.id}`}>{billWords(line)}</Link>
                    ) : (
                      billWords(line)
                    )}
                  </p>
                  <BillActs line={line} kinds={['refund']} />
                </li>
              ))}
            </ul>
          </Row>
        ) : null}
        <Row label="Packs" id="packs">
          {packs.rows.length > 0 ? (
            <ul className="ruled">
              {packs.rows.map((pack) => (
                <li key={pack.id}>
                  <PackLine pack={pack} {...time} withPayer />
                  {pack.account.owedMinor === 0 ? (
                    <BillActs line={packBill(pack)} kinds={['refund', 'correction']} />
                  ) : null}
                </li>
              ))}
            </ul>
          ) : (
            <p>{packsAfter ? 'No pack was sold before that.' : 'No pack has been sold yet.'}</p>
          )}
          <MoreLink page="/program/billing" list="packs" next={packs.next} query={query}>
            Packs sold before these
          </MoreLink>
          {packPrices.length > 0 && payers.rows.length > 0 ? (
            <SellPack payers={payers.rows.map(({ id, name }) => ({ id, name }))} prices={packPrices} />
          ) : (
            <p className="small soft">
              {packPrices.length === 0
                ? 'To sell one, put a pack on the price list first.'
                : find === ''
                  ? 'Nobody here can buy a pack yet.'
                  : `Nobody who could buy a pack is called “${find}”.`}
            </p>
          )}
          {payers.hasMore || find !== '' ? (
            <Form action="/program/billing" role="search" className="acts">
              <label>
                Find a buyer by name{' '}
                <input type="search" name="payer" defaultValue={find} maxLength={80} autoComplete="off" />
              </label>
              <button className="btn">Find</button>
            </Form>
          ) : null}
        </Row>
        <Row label="Month by month" id="months">
          <MonthsTable months={months.rows} thisMonth={dayIn(timeZone, now).slice(0, 7)} />
          <MoreLink page="/program/billing" list="months" next={months.next} query={query}>
            Earlier months
          </MoreLink>
        </Row>
        <Row label="Price list">
          <ul className="ruled">
            {prices.map((line) => (
              <li key={line.id}>
                <p>
                  {line.label}
                  {line.kind === 'pack'
                    ? `, ${line.lessons} lessons, valid ${line.validDays} days`
                    : ''}: <Money minor={line.amountMinor} currency={line.currency} />
                  <span className="small soft">
                    {' '}
                    version {line.number}, since <Moment at={line.createdAt} {...time} as="day" />
                  </span>
                </p>
                <PriceForm key={line.id} currency={program.currency} line={line} />
              </li>
            ))}
          </ul>
          <div className="acts">
            <PriceForm currency={program.currency} line={null} />
          </div>
          {oldPrices.length > 0 ? (
            <details>
              <summary>Earlier versions</summary>
              <ul className="small">
                {oldPrices.map((line) => (
                  <li key={line.id}>
                    {line.label}, version {line.number}:{' '}
                    <Money minor={line.amountMinor} currency={line.currency} />
                    {line.retiredAt ? (
                      <>
                        , until <Moment at={line.retiredAt} {...time} as="day" />
                      </>
                    ) : null}
                  </li>
                ))}
              </ul>
            </details>
          ) : null}
        </Row>
        <Row label="What is agreed">
          <PolicyForm policy={program.policy} />
        </Row>
        <Row label="Documents" id="documents">
          {documents.rows.length > 0 ? (
            <DocumentList documents={documents.rows} {...time} withPayer />
          ) : (
            <p>Invoices and receipts are made by themselves, with the first charge and the first payment.</p>
          )}
          <MoreLink page="/program/billing" list="documents" next={documents.next} query={query}>
            Earlier documents
          </MoreLink>
        </Row>
      </Page>
    </>
  );
}

/** A pack as a bill that nothing is owed for any more: it can still be corrected or given back. */
const packBill = (pack: PackOnPage) => ({
  subject: `pack:${pack.id}`,
  payer: pack.payer,
  lesson: null,
  pack: { id: pack.id, label: pack.label },
  currency: pack.currency,
  chargedMinor: pack.account.chargedMinor,
  receivedMinor: pack.account.receivedMinor,
  owedMinor: pack.account.owedMinor,
  toGiveBackMinor: 0,
  isFromPack: false,
  dueAt: null,
  since: pack.soldAt,
});
