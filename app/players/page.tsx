import type { Metadata } from 'next';
import Form from 'next/form';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Moment } from '@/app/_ui/moment';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { Pennant } from '@/app/_ui/pennant';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listPlayers } from '@/lib/data/players.read';
import { findLessons, findPlayers } from '@/lib/data/search.read';
import { careReasons, shownAge } from '@/lib/domain/desk/care';
import { dayIn } from '@/lib/domain/people/age';
import { isStaff } from '@/lib/domain/people/viewer';
import { anId, type LessonId, type PersonId } from '@/lib/domain/shared/ids';
import { Found } from './_players/found';

export const metadata: Metadata = { title: 'Players' };

/** Every player of the program with the latest of their thread, for staff. */
export default async function PlayersPage({
  searchParams,
}: {
  searchParams: Promise<{ find?: string; after?: string }>;
}) {
  const viewer = await requireViewer('/players');
  if (!isStaff(viewer)) redirect('/lessons');
  const { find = '', after } = await searchParams;
  const cursor = anId<PersonId>().safeParse(after);
  const lessonCursor = anId<LessonId>().safeParse(after);
  const isSearch = find.trim() !== '';
  const [frame, players, foundPlayers, foundLessons] = await Promise.all([
    pageFrame(viewer),
    isSearch ? null : listPlayers(viewer, cursor.success ? { after: cursor.data } : {}),
    isSearch && !after ? findPlayers(viewer, find) : { rows: [], hasMore: false },
    isSearch ? findLessons(viewer, find, lessonCursor.success ? lessonCursor.data : undefined) : null,
  ]);
  const today = dayIn(frame.timeZone, frame.now);
  return (
    <>
      <FrameBar frame={frame} current="players" />
      <Page kind="broad">
        <PageHead title="Players" />
        <Form action="/players" role="search">
          <input
            className="write"
            type="search"
            name="find"
            defaultValue={find}
            aria-label="Find players by name, lessons by their question"
            placeholder="Find players and lessons"
          />
        </Form>
        {foundLessons ? (
          <Found
            find={find}
            players={foundPlayers}
            lessons={foundLessons}
            now={frame.now}
            timeZone={frame.timeZone}
          />
        ) : players?.rows.length === 0 ? (
          <EmptyState title="No players yet">
            <p>Invite the first one on the People page.</p>
          </EmptyState>
        ) : (
          <ul className="ruled">
            {players?.rows.map((player) => {
              const age = shownAge(player.birthDate, today);
              const care = careReasons(
                { ...player, painLevel: null, painWhere: null, clipsFailed: 0 },
                today,
              );
              return (
                <li key={player.id}>
                  <h2>
                    <Link href={`/players/${player.id}`}>{player.name}</Link>
                    {age === null ? null : <span className="soft">, {age}</span>}
                  </h2>
                  <p className="small soft">
                    {player.lessonCount === 1 ? '1 lesson' : `${player.lessonCount} lessons`}
                    {player.lastSentAt ? (
                      <>
                        , the latest sent{' '}
                        <Moment at={player.lastSentAt} now={frame.now} timeZone={frame.timeZone} as="day" />
                      </>
                    ) : null}
                  </p>
                  {player.fixFirst ? <p>{player.fixFirst}</p> : null}
                  {care.map((reason) => (
                    <Pennant key={reason}>{reason}</Pennant>
                  ))}
                </li>
              );
            })}
          </ul>
        )}
        {players?.hasMore ? (
          <p>
            <Link href={`/players?after=${players.rows.at(-1)?.id}`}>More players</Link>
          </p>
        ) : null}
      </Page>
    </>
  );
}
