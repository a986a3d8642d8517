import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { cardsOf } from '@/app/_server/cards';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { BillLine, billWords } from '@/app/_ui/bill-line';
import { DocumentList } from '@/app/_ui/document-list';
import { EmptyState } from '@/app/_ui/empty-state';
import { Moment } from '@/app/_ui/moment';
import { MoreLink, oneOf as one, type PageQuery } from '@/app/_ui/more-link';
import { Money } from '@/app/_ui/money';
import { Notice } from '@/app/_ui/notice';
import { PackLine } from '@/app/_ui/pack-line';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listFamilyOpen, listFamilySettled, type BalanceLine } from '@/lib/data/balances.read';
import { listCardPayments } from '@/lib/data/cards.read';
import { listDocuments } from '@/lib/data/documents.read';
import { listPacks } from '@/lib/data/packs.read';
import { listPrices } from '@/lib/data/prices.read';
import { cancellationWords } from '@/lib/domain/billing/policy';
import { formatMoney } from '@/lib/domain/billing/money';
import { sendsFor } from '@/lib/domain/people/viewer';
import { PayByCard } from './_billing/pay-by-card';

export const metadata: Metadata = { title: 'Billing' };

const HOUR_MS = 3_600_000;

const totalWords = (owed: readonly BalanceLine[]) => {
  const sums = new Map<string, number>();
  for (const { currency, owedMinor } of owed) sums.set(currency, (sums.get(currency) ?? 0) + owedMinor);
  return [...sums].map(([currency, minor]) => formatMoney(minor, currency)).join(' and ');
};

type Props = { searchParams: Promise<PageQuery> };

/** For the payer: what is owed and since when, how to pay, what is left in packs, documents, and what is settled. */
export default async function BillingPage({ searchParams }: Props) {
  const viewer = await requireViewer('/billing');
  if (sendsFor(viewer).length === 0) redirect('/');
  const frame = await pageFrame(viewer);
  const { program, now, timeZone } = frame;
  const query = await searchParams;
  const { settled: settledAfter, packs: packsAfter, documents: documentsAfter } = query;
  const [open, settled, packs, documents, prices, cardPayments] = await Promise.all([
    listFamilyOpen(viewer),
    listFamilySettled(viewer, { after: one(settledAfter) }),
    listPacks(viewer, 'family', { after: one(packsAfter) }),
    listDocuments(viewer, 'family', { after: one(documentsAfter) }),
    listPrices(viewer),
    listCardPayments(viewer, new Date(now.getTime() - HOUR_MS)),
  ]);
  const owed = open.filter((line) => line.owedMinor > 0);
  const toGiveBack = open.filter((line) => line.toGiveBackMinor > 0);
  const packPrices = prices.filter((line) => line.kind === 'pack');
  const [lastCard] = cardPayments;
  const hasCards = cardsOf() !== null;
  return (
    <>
      <FrameBar frame={frame} current="billing" isReading />
      <Page>
        <PageHead title={owed.length > 0 ? `${totalWords(owed)} to pay` : 'Nothing to pay'}>
          <p className="soft">Whatever is owed, every lesson that was returned stays yours to read.</p>
          {lastCard?.state === 'paid' ? (
            <Notice kind="done">Your card payment has arrived. The receipt stands below.</Notice>
          ) : null}
          {lastCard?.state === 'open' ? (
            <Notice>
              If you have just paid by card, it shows here within a few minutes. Nothing has to be paid twice.
            </Notice>
          ) : null}
        </PageHead>
        {owed.length > 0 ? (
          <Row label="To pay">
            <ul className="ruled">
              {owed.map((line) => (
                <BillLine key={line.subject} line={line} now={now} timeZone={timeZone}>
                  {hasCards ? <PayByCard subject={line.subject} what={billWords(line)} /> : null}
                </BillLine>
              ))}
            </ul>
          </Row>
        ) : null}
        <Row label="How to pay">
          <p className="read">
            {program.howToPay || 'The program has not said yet how to pay. Ask your coach.'}
          </p>
          <p className="small soft">
            A charge is due {program.policy.dueDays} days after it is made.{' '}
            {cancellationWords(program.policy)}
          </p>
          {program.policy.terms ? <p className="small soft">{program.policy.terms}</p> : null}
        </Row>
        {toGiveBack.length > 0 ? (
          <Row label="Comes back to you">
            <ul className="ruled">
              {toGiveBack.map((line) => (
                <li key={line.subject}>
                  <Money minor={line.toGiveBackMinor} currency={line.currency} />, {billWords(line)}. The
                  program gives it back and notes it here.
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
                  <PackLine pack={pack} now={now} timeZone={timeZone} />
                </li>
              ))}
            </ul>
          ) : (
            <p>No pack yet.</p>
          )}
          <MoreLink page="/billing" list="packs" next={packs.next} query={query}>
            Packs before these
          </MoreLink>
          {packPrices.length > 0 ? (
            <p className="small soft">
              {program.name} has packs:{' '}
              {packPrices.map((price, index) => (
                <span key={price.id}>
                  {index > 0 ? '; ' : ''}
                  {price.label}, {price.lessons} lessons for{' '}
                  <Money minor={price.amountMinor} currency={price.currency} />, valid {price.validDays} days
                </span>
              ))}
              . Ask your coach for one; you and the players you stand beside may use it.
            </p>
          ) : null}
        </Row>
        <Row label="Documents" id="documents">
          {documents.rows.length > 0 ? (
            <DocumentList documents={documents.rows} now={now} timeZone={timeZone} />
          ) : (
            <EmptyState title="No invoice or receipt yet">
              <p>They appear here with the first lesson that costs something.</p>
            </EmptyState>
          )}
          <MoreLink page="/billing" list="documents" next={documents.next} query={query}>
            Earlier documents
          </MoreLink>
        </Row>
        {settled.rows.length > 0 ? (
          <Row label="Settled" id="settled">
            <ul className="ruled small">
              {settled.rows.map((line) => (
                <li key={line.subject}>
                  {line.lesson ? (
                    <Link href={`/lessons/${line.lesson.id}`}>{billWords(line)}</Link>
                  ) : (
                    billWords(line)
                  )}
                  : {settledWords(line)}
                  <span className="soft">
                    , <Moment at={line.since} now={now} timeZone={timeZone} as="day" />
                  </span>
                </li>
              ))}
            </ul>
            <MoreLink page="/billing" list="settled" next={settled.next} query={query}>
              Settled before these
            </MoreLink>
          </Row>
        ) : null}
      </Page>
    </>
  );
}

const settledWords = ({ isFromPack, receivedMinor, currency, lesson, pack }: BalanceLine) => {
  if (isFromPack) return 'from a pack';
  if (receivedMinor > 0) return `${formatMoney(receivedMinor, currency)} paid`;
  return lesson || pack ? 'nothing to pay' : 'given back';
};
