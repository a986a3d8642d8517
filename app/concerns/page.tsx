import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Moment } from '@/app/_ui/moment';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listConcerns, type ConcernCard } from '@/lib/data/concerns.read';
import { isLead } from '@/lib/domain/people/viewer';
import { CallFirst } from './_concerns/call-first';
import { CloseForm } from './_concerns/close-form';

export const metadata: Metadata = { title: 'Concerns' };

/** The concerns that were raised, for leads; the one a concern is about does not find it here. */
export default async function ConcernsPage({ searchParams }: { searchParams: Promise<PageQuery> }) {
  const viewer = await requireViewer('/concerns');
  if (!isLead(viewer)) redirect('/concerns/new');
  const query = await searchParams;
  const [frame, open, closed] = await Promise.all([
    pageFrame(viewer),
    listConcerns(viewer, 'open', { after: oneOf(query['open']) }),
    listConcerns(viewer, 'closed', { after: oneOf(query['closed']) }),
  ]);
  const { now, timeZone } = frame;
  const line = (one: ConcernCard) => (
    <li key={one.id} className="stack tight">
      <p className="small soft">
        <Moment at={one.at} now={now} timeZone={timeZone} />, raised{' '}
        {one.raisedBy ? `by ${one.raisedBy}` : 'without a name'}
        {one.about && `, about ${one.about}`}
        {one.player && (
          <>
            , on the lessons of <Link href={`/players/${one.player.id}`}>{one.player.name}</Link>
          </>
        )}
      </p>
      {one.body.split('\n').map((words, index) => (
        <p key={index} className="read">
          {words}
        </p>
      ))}
      {one.closed ? (
        <p className="small">
          Closed <Moment at={one.closed.at} now={now} timeZone={timeZone} />
          {one.closed.by && ` by ${one.closed.by}`}: {one.closed.outcome}
        </p>
      ) : (
        <CloseForm id={one.id} />
      )}
    </li>
  );
  return (
    <>
      <FrameBar frame={frame} current="people" isReading />
      <Page>
        <PageHead title="Concerns" />
        <Row label="First">
          <CallFirst />
        </Row>
        <Row label="Open" id="open">
          {open.rows.length === 0 ? (
            <p>{oneOf(query['open']) ? 'None is open that was raised before.' : 'None is open.'}</p>
          ) : (
            <ul className="ruled">{open.rows.map(line)}</ul>
          )}
          <MoreLink page="/concerns" list="open" next={open.next} query={query}>
            Open concerns raised earlier
          </MoreLink>
        </Row>
        {closed.rows.length > 0 && (
          <Row label="Closed" id="closed">
            <ul className="ruled">{closed.rows.map(line)}</ul>
            <MoreLink page="/concerns" list="closed" next={closed.next} query={query}>
              Concerns closed earlier
            </MoreLink>
          </Row>
        )}
      </Page>
    </>
  );
}
