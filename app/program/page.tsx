import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Money } from '@/app/_ui/money';
import { Moment } from '@/app/_ui/moment';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import Link from 'next/link';
import { listAudit, readChecklist } from '@/lib/data/program.read';
import { exponentOf } from '@/lib/domain/billing/money';
import { CHECKPOINT_NAME, CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { SettingsForm } from './_program/settings-form';

export const metadata: Metadata = { title: 'Program' };

/** How the program works: promise, price and way to pay, the checklist, who owes what, and what was done. */
export default async function ProgramPage() {
  const viewer = await requireViewer('/program');
  if (!isStaff(viewer)) redirect('/lessons');
  const [frame, checklist, audit] = await Promise.all([
    pageFrame(viewer),
    readChecklist(viewer),
    listAudit(viewer, 60),
  ]);
  const { program, now, timeZone } = frame;
  const exponent = exponentOf(program.currency);
  return (
    <>
      <TopBar
        programName={program.name}
        roles={frame.roles}
        current="program"
        personName={frame.personName}
        unread={frame.unread}
        isReading
      />
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
        {isLead(viewer) ? (
          <Row label="Money">
            <p>
              <Link href="/program/billing">What is owed, payments, packs and prices</Link>
            </p>
          </Row>
        ) : null}
        <Row label="Drills">
          <p>
            <Link href="/program/drills">The drill library</Link>
          </p>
        </Row>
        <Row label="What is kept">
          <p>
            <Link href="/program/retention">How long things are kept</Link>
          </p>
        </Row>
        <Row label="Checklist">
          <p className="small soft">
            Version {checklist?.number ?? 0}. Lessons keep the version they were begun with. No item carries a
            normal range: no study supports one.
          </p>
          {CHECKPOINTS.map((checkpoint) => (
            <section key={checkpoint}>
              <h3>{CHECKPOINT_NAME[checkpoint]}</h3>
              <ul className="ruled">
                {checklist?.items
                  .filter((item) => item.checkpoint === checkpoint)
                  .map((item) => (
                    <li key={item.id}>
                      <b>{item.title}</b>
                      <p>{item.lookFor}</p>
                      <p className="small soft">
                        {item.standing}. Judged from{' '}
                        {item.views.map((view) => VIEW_WORD[view].toLowerCase()).join(', ')}.
                      </p>
                    </li>
                  ))}
              </ul>
            </section>
          ))}
        </Row>
        {isLead(viewer) ? (
          <Row label="What was done">
            <ol className="small">
              {audit.map((entry) => (
                <li key={entry.id}>
                  <Moment at={entry.at} now={now} timeZone={timeZone} />: {entry.action.replace('.', ' ')}
                  {entry.actor ? ` by ${entry.actor}` : ''}
                </li>
              ))}
            </ol>
          </Row>
        ) : null}
      </Page>
    </>
  );
}
