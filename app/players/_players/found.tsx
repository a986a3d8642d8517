import Link from 'next/link';
import { EmptyState } from '@/app/_ui/empty-state';
import { Moment } from '@/app/_ui/moment';
import { StatePath } from '@/app/_ui/state-path';
import type { FoundLesson } from '@/lib/data/search.read';
import type { PersonRef } from '@/lib/domain/lessons/lesson';

type Props = {
  find: string;
  players: { rows: readonly PersonRef[]; hasMore: boolean };
  lessons: { rows: readonly FoundLesson[]; hasMore: boolean };
  now: Date;
  timeZone: string;
};

/** What a search found: players by name, then lessons by their question, newest first. */
export const Found = ({ find, players, lessons, now, timeZone }: Props) => {
  if (players.rows.length === 0 && lessons.rows.length === 0) {
    return (
      <EmptyState title="Nothing found">
        <p>
          No player’s name and no question holds “{find}”. <Link href="/players">See all players</Link>
        </p>
      </EmptyState>
    );
  }
  const last = lessons.rows.at(-1);
  return (
    <>
      <p className="small soft">
        Found for “{find}”. <Link href="/players">See all players</Link>
      </p>
      {players.rows.length > 0 ? (
        <ul className="ruled">
          {players.rows.map((player) => (
            <li key={player.id}>
              <h2>
                <Link href={`/players/${player.id}`}>{player.name}</Link>
              </h2>
            </li>
          ))}
        </ul>
      ) : null}
      {players.hasMore ? (
        <p className="small soft">More names fit. Type more of the name to see them.</p>
      ) : null}
      {lessons.rows.length > 0 ? (
        <ul className="ruled">
          {lessons.rows.map((lesson) => (
            <li key={lesson.id}>
              <h2>
                <Link href={`/lessons/${lesson.id}`}>
                  {lesson.player.name}, lesson {lesson.number}
                </Link>
              </h2>
              <p className="small soft">
                Sent <Moment at={lesson.submittedAt} now={now} timeZone={timeZone} as="day" />{' '}
                <StatePath state={lesson.state} />
              </p>
              <p>“{lesson.question}”</p>
              {lesson.fixFirst ? <p>{lesson.fixFirst}</p> : null}
            </li>
          ))}
        </ul>
      ) : null}
      {lessons.hasMore && last ? (
        <p>
          <Link href={`/players?find=${encodeURIComponent(find)}&after=${last.id}`}>Earlier lessons</Link>
        </p>
      ) : null}
    </>
  );
};
