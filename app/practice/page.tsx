import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listGiven, readPracticeSafety } from '@/lib/data/practice.read';
import { readThread } from '@/lib/data/threads.read';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isMinor, mayHaveLogin } from '@/lib/domain/people/safeguarding';
import { sendsFor } from '@/lib/domain/people/viewer';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { PausePart } from './_practice/pause-part';
import { PracticeDesk } from './_practice/practice-desk';
import { SafetyForm } from './_practice/safety-form';

export const metadata: Metadata = { title: 'Practice' };

type Query = { [key: string]: string | string[] | undefined };

/** Today's drills of a player, for the player or a guardian with a phone in the hand. */
export default async function PracticePage({ searchParams }: { searchParams: Promise<Query> }) {
  const asked = anId<PersonId>().safeParse((await searchParams)['player']);
  const viewer = await requireViewer(asked.success ? `/practice?player=${asked.data}` : '/practice');
  const players = sendsFor(viewer);
  const playerId = asked.success ? asked.data : players.length === 1 ? players[0] : undefined;
  if (playerId && !players.includes(playerId)) notFound();
  const frame = await pageFrame(viewer);
  const threads = await Promise.all((playerId ? [playerId] : players).map((id) => readThread(viewer, id)));
  const top = <FrameBar frame={frame} current="lessons" />;
  const [thread] = threads;
  if (!playerId || !thread) {
    return (
      <>
        {top}
        <Page>
          <PageHead title="Practice" />
          <Row label="Whose practice">
            {threads.length === 0 ? (
              <EmptyState title="Nobody to practise for">
                <p>Drills stand here for players and their guardians.</p>
              </EmptyState>
            ) : (
              <ul className="stack tight">
                {threads.flatMap((one) =>
                  one ? (
                    <li key={one.player.id}>
                      <Link className="btn" href={`/practice?player=${one.player.id}`}>
                        {one.player.name}
                      </Link>
                    </li>
                  ) : (
                    []
                  ),
                )}
              </ul>
            )}
          </Row>
        </Page>
      </>
    );
  }
  const [given, safety] = await Promise.all([
    listGiven(viewer, { playerId }),
    readPracticeSafety(viewer, playerId),
  ]);
  const today = dayIn(frame.timeZone, frame.now);
  const facts = { birthDate: thread.player.birthDate as Day | null };
  const isOther = viewer.personId !== playerId;
  return (
    <>
      {top}
      <Page>
        <PageHead title={isOther ? `Practice for ${thread.player.name}` : 'Practice'} />
        {given.length === 0 ? (
          <Row label="Today">
            <EmptyState title="No drills now">
              <p>Your coach gives drills with a lesson. They stand here until the next one.</p>
            </EmptyState>
          </Row>
        ) : (
          <>
            {given.some((one) => one.pausedAt !== null) ? (
              <Row label="Paused">
                <PausePart
                  playerId={playerId}
                  playerName={thread.player.name}
                  given={given}
                  isStaff={false}
                  maySayCleared={isOther || !isMinor(facts, today)}
                />
              </Row>
            ) : null}
            {safety ? null : (
              <Row label="Before you start">
                <SafetyForm playerId={playerId} isChild={!mayHaveLogin(facts, today)} />
              </Row>
            )}
            <Row label="Today">
              <PracticeDesk viewerId={viewer.personId} given={given} today={today} isSafe={safety !== null} />
            </Row>
          </>
        )}
      </Page>
    </>
  );
}
