import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Money } from '@/app/_ui/money';
import { Moment } from '@/app/_ui/moment';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { countConcerns } from '@/lib/data/concerns.read';
import { listAudit, readChecklist } from '@/lib/data/program.read';
import { exponentOf } from '@/lib/domain/billing/money';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { auditWords } from '@/lib/domain/shared/audit-words';
import { SettingsForm } from './_program/settings-form';
import { SettingsList } from './_program/settings-list';
import { ZoneForm } from './_program/zone-form';

export const metadata: Metadata = { title: 'Program' };

/** How the program works: promise, price and way to pay, the way to every other setting, and what was done. */
export default async function ProgramPage({ searchParams }: { searchParams: Promise<PageQuery> }) {
  const viewer = await requireViewer('/program');
  if (!isStaff(viewer)) redirect('/lessons');
  const query = await searchParams;
  const [frame, checklist, concerns, audit] = await Promise.all([
    pageFrame(viewer),
    readChecklist(viewer),
    countConcerns(viewer),
    listAudit(viewer, { after: oneOf(query['audit']) }),
  ]);
  const { program, now, timeZone } = frame;
  const exponent = exponentOf(program.currency);
  return (
    <>
      <FrameBar frame={frame} current="program" isReading />
      <Page>
        <PageHead title={program.name} />
        <Row label="How it works">
          {isLead(viewer) ? (
            <SettingsForm
              name={program.name}
              promiseHours={program.promiseHours}
              howToPay={program.howToPay}
              priceLabel={program.price?.label ?? 'One lesson'}
              amount={((program.price?.amountMinor ?? 0) / 10 ** exponent).toFixed(exponent)}
              currency={program.currency}
            />
          ) : (
            <dl className="ruled">
              <div>
                <dt className="over">Promise</dt>
                <dd>An answer within {program.promiseHours} hours.</dd>
              </div>
              <div>
                <dt className="over">Price</dt>
                <dd>
                  {program.price ? (
                    <>
                      {program.price.label},{' '}
                      <Money minor={program.price.amountMinor} currency={program.price.currency} />
                    </>
                  ) : (
                    'No charge'
                  )}
                </dd>
              </div>
              <div>
                <dt className="over">How to pay</dt>
                <dd>{program.howToPay || 'Not said yet.'}</dd>
              </div>
            </dl>
          )}
        </Row>
        <Row label="Settings">
          <SettingsList viewer={viewer} program={program} checklist={checklist} concerns={concerns} />
        </Row>
        {isLead(viewer) ? (
          <Row label="Zone">
            <ZoneForm
              timeZone={timeZone}
              zones={[...new Set([timeZone, ...Intl.supportedValuesOf('timeZone')])].sort()}
              now={now}
            />
          </Row>
        ) : null}
        {isLead(viewer) ? (
          <Row label="What was done" id="audit">
            <ol className="small">
              {audit.rows.map((entry) => (
                <li key={entry.id}>
                  <Moment at={entry.at} now={now} timeZone={timeZone} />: {auditWords(entry.action)}
                  {entry.actor ? `, by ${entry.actor}` : ''}
                </li>
              ))}
            </ol>
            <MoreLink page="/program" list="audit" next={audit.next} query={query}>
              What was done before that
            </MoreLink>
          </Row>
        ) : null}
      </Page>
    </>
  );
}
