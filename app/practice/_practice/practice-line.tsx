import Link from 'next/link';
import { Pennant } from '@/app/_ui/pennant';
import type { Given } from '@/lib/domain/drills/given';
import { followUpOf } from '@/lib/domain/drills/practice';
import type { Day } from '@/lib/domain/people/age';
import { dayWords } from './day-words';

type Props = {
  given: readonly Given[];
  today: Day;
  /** Leads to the practice page; for the player's side. */
  canPractise: boolean;
};

/** What a player practises now in one line, and whether a swing is wanted. Nothing where nothing is given. */
export const PracticeLine = ({ given, today, canPractise }: Props) => {
  const [first] = given;
  if (!first) return null;
  const isPaused = given.some((one) => one.pausedAt !== null);
  const asked = given.flatMap((one) => {
    const state = followUpOf({ ...one, isPaused: one.pausedAt !== null }, today);
    return one.swingBy && (state === 'wanted' || state === 'overdue') ? [{ state, by: one.swingBy }] : [];
  });
  const [soonest] = asked.sort((a, b) => (a.by < b.by ? -1 : 1));
  const count = given.length === 1 ? 'one drill' : `${given.length} drills`;
  return (
    <>
      <p>
        {isPaused ? (
          <>
            <Pennant>Practice is paused: pain was reported</Pennant>
            {canPractise ? (
              <>
                {' '}
                <Link href={`/practice?player=${first.player.id}`}>What to do now</Link>
              </>
            ) : null}
          </>
        ) : canPractise ? (
          <Link href={`/practice?player=${first.player.id}`}>Practise {count}</Link>
        ) : (
          `Practises ${count}.`
        )}
      </p>
      {soonest ? (
        <p>
          {soonest.state === 'overdue' ? (
            <Pennant>Follow-up overdue: a swing was asked for by {dayWords(soonest.by)}</Pennant>
          ) : (
            `Follow-up wanted: a swing by ${dayWords(soonest.by)}.`
          )}
        </p>
      ) : null}
    </>
  );
};
