import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { BillingWord } from '@/app/_ui/money';
import { Moment } from '@/app/_ui/moment';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { StatePath } from '@/app/_ui/state-path';
import { FrameBar } from '@/app/_ui/frame-bar';
import { UploadsGoing } from '@/app/_ui/uploads-going';
import { PracticeLine } from '@/app/practice/_practice/practice-line';
import { listGiven } from '@/lib/data/practice.read';
import { listOwnThreads, type ThreadDetail } from '@/lib/data/threads.read';
import { dayIn } from '@/lib/domain/people/age';
import { isStaff } from '@/lib/domain/people/viewer';

export const metadata: Metadata = { title: 'My lessons' };

/** Home of a player or guardian: for each player the one next thing to do, and the latest lessons. */
export default async function HomePage() {
  const viewer = await requireViewer('/lessons');
  const threads = await listOwnThreads(viewer);
  if (isStaff(viewer) && threads.length === 0) redirect('/desk');
  const [frame, given] = await Promise.all([
    pageFrame(viewer),
    Promise.all(threads.map((thread) => listGiven(viewer, { playerId: thread.player.id }))),
  ]);
  return (
    <>
      <FrameBar frame={frame} current="lessons" isReading />
      <Page>
        <UploadsGoing personId={viewer.personId} />
        <PageHead title={threads.length > 1 ? 'Your players' : 'Your lessons'} />
        {threads.length === 0 ? (
          <EmptyState title="No player yet">
            <p>Add your child on the account page. Then you can send the first swing.</p>
            <Link className="btn do" href="/account">
              To the account page
            </Link>
          </EmptyState>
        ) : (
          threads.map((thread, index) => (
            <Row key={thread.id} label={thread.player.name}>
              <NextThing thread={thread} isFirst={index === 0} now={frame.now} timeZone={frame.timeZone} />
              <PracticeLine given={given[index] ?? []} today={dayIn(frame.timeZone, frame.now)} canPractise />
              <ul className="ruled">
                {thread.lessons.slice(0, 4).map((lesson) => (
                  <li key={lesson.id}>
                    <p className="acts">
                      <StatePath state={lesson.state} />
                      {lesson.number > 0 ? <span className="small soft">Lesson {lesson.number}</span> : null}
                      {lesson.submittedAt ? (
                        <span className="small">
                          <BillingWord
                            status={lesson.account.status}
                            dueMinor={lesson.account.owedMinor}
                            currency={lesson.currency}
                          />
                        </span>
                      ) : null}
                      {lesson.unreadCount > 0 ? <b className="small">{lesson.unreadCount} new</b> : null}
                    </p>
                    <Link
                      href={
                        lesson.state === 'draft'
                          ? `/lessons/new?player=${thread.player.id}&draft=${lesson.id}`
                          : `/lessons/${lesson.id}`
                      }
                    >
                      {lesson.fixFirst ?? (lesson.question || 'A swing that is not sent yet')}
                    </Link>
                  </li>
                ))}
              </ul>
              <p>
                <Link href={`/players/${thread.player.id}`}>All lessons of {thread.player.name}</Link>
              </p>
            </Row>
          ))
        )}
      </Page>
    </>
  );
}

/** The one thing to do next for a player: go on with a draft, wait, read, or send. */
const NextThing = ({
  thread,
  isFirst,
  now,
  timeZone,
}: {
  thread: ThreadDetail;
  isFirst: boolean;
  now: Date;
  timeZone: string;
}) => {
  const look = isFirst ? 'btn do' : 'btn';
  const [latest] = thread.lessons;
  if (latest?.state === 'draft') {
    return (
      <p className="acts">
        <Link className={look} href={`/lessons/new?player=${thread.player.id}&draft=${latest.id}`}>
          Go on with the swing you began
        </Link>
      </p>
    );
  }
  if (latest?.promisedAt && (latest.state === 'submitted' || latest.state === 'in_review')) {
    return (
      <p>
        Your coach answers by <Moment at={latest.promisedAt} now={now} timeZone={timeZone} />.
      </p>
    );
  }
  const isFresh = latest?.state === 'returned';
  return (
    <p className="acts">
      {isFresh ? (
        <Link className={look} href={`/lessons/${latest.id}`}>
          Read lesson {latest.number}
        </Link>
      ) : null}
      <Link
        className={isFresh ? 'btn' : look}
        href={`/lessons/new?${new URLSearchParams({ player: thread.player.id, ...(isFresh ? { follows: latest.id } : {}) }).toString()}`}
      >
        {latest ? 'Send the next swing' : 'Send a swing'}
      </Link>
    </p>
  );
};
