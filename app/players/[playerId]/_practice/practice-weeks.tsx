import Link from 'next/link';
import { Row } from '@/app/_ui/page-grid';
import { dayWords } from '@/app/practice/_practice/day-words';
import { Tally } from '@/app/practice/_practice/tally';
import type { PractisedDrill } from '@/lib/data/practice.read';
import { drillWeekWords, practiceWeeks } from '@/lib/domain/drills/weeks';
import { dayIn, type Day } from '@/lib/domain/people/age';

export const WEEKS_SHOWN = 8;

type Props = {
  playerId: string;
  drills: readonly PractisedDrill[];
  /** A day of the newest week that is shown. */
  upTo: Day;
  /** The Monday before which the earlier weeks begin; null when nothing was given before. */
  earlier: Day | null;
  isNewest: boolean;
  today: Day;
  timeZone: string;
};

/** What was practised of what was asked for, week by week, newest first. Nothing where nothing was ever given. */
export const PracticeWeeks = (props: Props) => {
  const { playerId, drills, upTo, earlier, isNewest, today, timeZone } = props;
  const weeks = practiceWeeks(
    drills.map(({ givenAt, endedAt, pausedAt, ...drill }) => ({
      ...drill,
      from: dayIn(timeZone, givenAt),
      until: endedAt && dayIn(timeZone, endedAt),
      pausedFrom: pausedAt && dayIn(timeZone, pausedAt),
    })),
    { upTo, count: WEEKS_SHOWN, today },
  );
  if (weeks.length === 0 && !earlier && isNewest) return null;
  return (
    <Row label="Practice by week" id="practice-weeks">
      {weeks.length === 0 ? <p>Nothing was given in these weeks.</p> : null}
      <ul className={weeks.length > 0 ? 'ruled read' : undefined}>
        {weeks.map((week) => (
          <li key={week.monday}>
            <h3>Week of {dayWords(week.monday)}</h3>
            <ul>
              {week.drills.map((drill, index) => (
                <li key={`${drill.title} ${index}`}>
                  {drill.title}: <Tally {...drill} words={drillWeekWords(drill)} />
                </li>
              ))}
            </ul>
          </li>
        ))}
      </ul>
      <p className="acts">
        {earlier ? (
          <Link href={`/players/${playerId}?weeks=${earlier}#practice-weeks`}>Earlier weeks</Link>
        ) : null}
        {isNewest ? null : <Link href={`/players/${playerId}#practice-weeks`}>The newest weeks</Link>}
      </p>
    </Row>
  );
};
