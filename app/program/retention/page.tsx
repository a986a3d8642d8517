import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { DeadlineList } from '@/app/_ui/deadline-list';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listNights, readDeadlines, type NightLine } from '@/lib/data/retention.read';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { daysInWords, FIXED_DEADLINES } from '@/lib/domain/privacy/retention';
import { DeadlinesForm } from './_retention/deadlines-form';

export const metadata: Metadata = { title: 'How long things are kept' };

/** How long the program keeps what, and what the last nights deleted: leads set it, coaches read it. */
export default async function RetentionPage() {
  const viewer = await requireViewer('/program/retention');
  if (!isStaff(viewer)) redirect('/lessons');
  const [frame, deadlines, nights] = await Promise.all([
    pageFrame(viewer),
    readDeadlines(viewer),
    listNights(viewer),
  ]);
  return (
    <>
      <FrameBar frame={frame} current="program" isReading />
      <Page>
        <PageHead title="How long things are kept" over={<Link href="/program">{frame.program.name}</Link>} />
        <Row label="Your law">
          <p className="read">
            Your program must follow its own law and the rules of its governing body. The days below are a
            place to begin, and no advice. Everybody in the program can read them.
          </p>
        </Row>
        <Row label="Deadlines">
          {isLead(viewer) ? <DeadlinesForm deadlines={deadlines} /> : <DeadlineList deadlines={deadlines} />}
        </Row>
        <Row label="The same everywhere">
          <ul className="ruled">
            {Object.values(FIXED_DEADLINES).map(({ title, days }) => (
              <li key={title}>
                {title}: {daysInWords(days)}.
              </li>
            ))}
          </ul>
        </Row>
        <Row label="What stays">
          <p className="read">
            The ledger keeps its amounts, documents their numbers, and the audit what was done by whom. None
            of them holds a word that somebody wrote, and an erased person stands in them under a stand-in.
            What belongs to a player under a legal hold stays until the hold is ended.
          </p>
        </Row>
        {isLead(viewer) && (
          <Row label="The last nights">
            {nights.length === 0 ? (
              <p>No night has passed yet. Every night a line comes here that says what was deleted.</p>
            ) : (
              <ul className="ruled small">
                {nights.map((night) => (
                  <Night key={night.day} night={night} />
                ))}
              </ul>
            )}
          </Row>
        )}
      </Page>
    </>
  );
}

const Night = ({ night: { day, isOver, lines } }: { night: NightLine }) => (
  <li>
    <b>{day}</b>:{' '}
    {lines.length === 0
      ? isOver
        ? 'nothing was due.'
        : 'at work.'
      : `${lines.map(({ title, count }) => `${title.toLowerCase()}: ${count}`).join(', ')}.`}
    {!isOver && lines.length > 0 && ' It was broken off; the next night goes on with the rest.'}
  </li>
);
