import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { Suspense } from 'react';
import * as z from 'zod';
import { clipUrl } from '@/app/_server/clip-url';
import { pageFrame } from '@/app/_server/page-frame';
import { ports } from '@/app/_server/ports';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { Pennant } from '@/app/_ui/pennant';
import { PracticeLine } from '@/app/practice/_practice/practice-line';
import { FrameBar } from '@/app/_ui/frame-bar';
import { UploadsGoing } from '@/app/_ui/uploads-going';
import { listGiven } from '@/lib/data/practice.read';
import { readThread } from '@/lib/data/threads.read';
import { shownAge } from '@/lib/domain/desk/care';
import { dayIn, daySchema, type Day } from '@/lib/domain/people/age';
import { CONTACT_REASON, staffContact } from '@/lib/domain/people/safeguarding';
import { isStaff, sendsFor } from '@/lib/domain/people/viewer';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { noteShown } from '@/lib/workflows/note-shown';
import { PracticePart } from './practice-part';
import { ProgressPart, ProgressSentence } from './progress-part';
import { ThreadLessonView } from './_thread/thread-lesson';
import { TranscriptSearch } from './_thread/transcript-search';

export const metadata: Metadata = { title: 'Lessons' };

const beforeSchema = z.coerce.number().int().min(2).max(100_000).nullable().catch(null);

type Given = {
  params: Promise<{ playerId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
};

/** One player's thread: every lesson in order, what was fixed first, what changed, and the money of each. */
export default async function ThreadPage({ params, searchParams }: Given) {
  const { playerId } = await params;
  const asked = await searchParams;
  const before = beforeSchema.parse(asked.before);
  const weeks = daySchema.nullable().catch(null).parse(asked.weeks);
  const viewer = await requireViewer(`/players/${playerId}`);
  const id = anId<PersonId>().safeParse(playerId);
  const thread = id.success ? await readThread(viewer, id.data, { before }) : null;
  if (!thread) notFound();
  await noteShown(ports, viewer, { playerId: thread.player.id, what: 'thread', id: thread.id });
  const [frame, given] = await Promise.all([
    pageFrame(viewer),
    listGiven(viewer, { playerId: thread.player.id }),
  ]);
  const today = dayIn(frame.timeZone, frame.now);
  const age = shownAge(thread.player.birthDate, today);
  const contact = staffContact({ birthDate: thread.player.birthDate as Day | null }, thread.guardians, today);
  const isSender = sendsFor(viewer).includes(thread.player.id);
  const latest = thread.lessons.find((lesson) => lesson.state === 'returned' || lesson.state === 'closed');
  const query = new URLSearchParams({ player: thread.player.id, ...(latest ? { follows: latest.id } : {}) });
  const hasSwings = thread.lessons.some((lesson) => lesson.number > 0);
  const bySending = new Map(
    [...thread.lessons, ...(thread.earlier ? [thread.earlier] : [])].map((lesson) => [lesson.id, lesson]),
  );
  return (
    <>
      <FrameBar frame={frame} current={isStaff(viewer) ? 'players' : 'lessons'} isReading />
      <Page>
        {isSender ? <UploadsGoing personId={viewer.personId} /> : null}
        <PageHead
          title={thread.player.name}
          over={`${age === null ? '' : `${age} years old. `}${guardianWords(thread.guardians)}`}
        >
          {contact === 'open' ? null : (
            <p>
              <Pennant>{isStaff(viewer) ? CONTACT_REASON[contact] : OWN_REASON[contact]}</Pennant>
            </p>
          )}
          {before === null && hasSwings ? (
            <Suspense fallback={null}>
              <ProgressSentence viewer={viewer} player={thread.player} />
            </Suspense>
          ) : null}
          <PracticeLine given={given} today={today} canPractise={isSender} />
          {isSender && before === null ? (
            <p>
              <Link className="btn do" href={`/lessons/new?${query.toString()}`}>
                {latest ? 'Send the next swing' : 'Send a swing'}
              </Link>
            </p>
          ) : null}
        </PageHead>
        {thread.lessons.some((lesson) => lesson.state === 'returned' || lesson.state === 'closed') ? (
          <Row label="What was said">
            <TranscriptSearch threadId={thread.id} />
          </Row>
        ) : null}
        {thread.lessons.length === 0 ? (
          <EmptyState title="No lessons yet">
            <p>
              {isSender
                ? 'Film one swing from the open side and send it. It takes about two minutes.'
                : 'The first swing that is sent will stand here.'}
            </p>
          </EmptyState>
        ) : (
          thread.lessons.map((lesson) => (
            <ThreadLessonView
              key={lesson.id}
              lesson={lesson}
              playerId={thread.player.id}
              before={lesson.followsId ? (bySending.get(lesson.followsId) ?? null) : null}
              canCompare={thread.lessons.some(
                (other) => other.posterClipId && other.number > 0 && other.number < lesson.number,
              )}
              isStaff={isStaff(viewer)}
              now={frame.now}
              timeZone={frame.timeZone}
              poster={
                lesson.posterClipId ? clipUrl(viewer, lesson.posterClipId, 'poster.jpg', frame.now) : null
              }
            />
          ))
        )}
        {thread.earlier || before !== null ? (
          <p className="acts">
            {thread.earlier ? (
              <Link
                className="btn"
                href={`/players/${thread.player.id}?before=${thread.lessons.at(-1)?.number ?? 2}`}
              >
                Lessons before lesson {thread.lessons.at(-1)?.number}
              </Link>
            ) : null}
            {before === null ? null : (
              <Link href={`/players/${thread.player.id}`}>Back to the newest lessons</Link>
            )}
          </p>
        ) : null}
        {before === null ? (
          <Suspense fallback={null}>
            <PracticePart
              viewer={viewer}
              playerId={thread.player.id}
              upTo={weeks}
              today={today}
              timeZone={frame.timeZone}
            />
          </Suspense>
        ) : null}
        {hasSwings ? (
          <Suspense fallback={<p role="status">Working out the progress.</p>}>
            <ProgressPart viewer={viewer} player={thread.player} timeZone={frame.timeZone} before={before} />
          </Suspense>
        ) : null}
      </Page>
    </>
  );
}

const guardianWords = (guardians: readonly { name: string; isVerified: boolean }[]) => {
  const names = guardians.filter((g) => g.isVerified).map((g) => g.name);
  return names.length === 0 ? '' : `${names.join(' and ')} ${names.length === 1 ? 'reads' : 'read'} along.`;
};

const OWN_REASON = {
  'no-guardian':
    'A parent or guardian has to join before your coach can answer. Name one on your account page.',
  paused: 'A guardian has paused contact. Your coach cannot answer until they take the pause back.',
  withdrawn:
    'A guardian has taken back the consent to lessons. Your coach cannot answer until they give it again.',
  'no-consent':
    'The consent to lessons has run out. A parent or guardian gives it again on their account page.',
} as const;
