import { TZDate } from '@date-fns/tz';
import { format } from 'date-fns';
import Link from 'next/link';
import { progressOf } from '@/app/_server/progress-of';
import { SESSION_NOISE_DEG, SESSION_NOISE_SOURCE } from '@/lib/domain/measures/change';
import { UNIT_OF } from '@/lib/domain/measures/target';
import { MEASURE_LABEL } from '@/lib/domain/measures/words';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { LessonColumn } from './_progress/columns';
import { ItemTable } from './_progress/item-table';
import { NewestFirst } from './_progress/newest-first';
import css from './_progress/progress.module.css';
import { SeriesRow } from './_progress/series-row';

type Props = {
  viewer: Viewer;
  player: { id: PersonId; name: string };
  timeZone: string;
  /** Only lessons with a smaller number. */
  before: number | null;
};

/** The sentence about progress, for the head of the page. */
export const ProgressSentence = async ({ viewer, player }: Pick<Props, 'viewer' | 'player'>) => {
  const { sentence } = await progressOf(viewer, player, null);
  return (
    <>
      <p className={css.says}>{sentence}</p>
      <p className={css.acts}>
        <a href="#progress">To the checklist and the measures across lessons</a>
      </p>
    </>
  );
};

/** What changed from lesson to lesson: for earlier lessons a sentence, the checklist's items and the measures, and the same as a file. */
export const ProgressPart = async ({ viewer, player, timeZone, before }: Props) => {
  const { swings, items, series, sentence, hasEarlier } = await progressOf(viewer, player, before);
  if (swings.length === 0) return null;
  const day = (at: Date, as: string) => format(new TZDate(at.getTime(), timeZone), as);
  const columns: LessonColumn[] = swings.map(({ lessonId, number, submittedAt, state, fixFirst }) => ({
    lessonId,
    number,
    day: day(submittedAt, 'd MMM'),
    state,
    fixFirst,
  }));
  const shown = series.filter(({ newest }) => newest !== null);
  const tried = series.filter(
    ({ newest, points }) => newest === null && points.some((point) => point.reason !== null),
  );
  return (
    <section className={css.part} id="progress" aria-label="Progress">
      <h2>Progress</h2>
      {before === null ? null : <p className={css.says}>{sentence}</p>}
      <p className={css.acts}>
        <a href={`/api/players/${player.id}/progress`} download>
          Take it away as a table (CSV)
        </a>
        {hasEarlier ? (
          <Link href={`/players/${player.id}?before=${swings[0]?.number ?? 1}#progress`}>
            Lessons before lesson {swings[0]?.number}
          </Link>
        ) : null}
        {before === null ? null : (
          <Link href={`/players/${player.id}#progress`}>Back to the newest lessons</Link>
        )}
      </p>
      {shown.some(({ measure, band }) => band && UNIT_OF[measure] === 'deg') ? (
        <p className="small soft read">
          Inside a shaded band a difference is noise: it is not larger than both intervals together, and for
          angles not larger than {SESSION_NOISE_DEG}° from one session to another (derived from the spread of
          raters in {SESSION_NOISE_SOURCE}).
        </p>
      ) : null}
      <NewestFirst label="Every lesson, side by side. Scrolls sideways.">
        <ItemTable columns={columns} items={items} />
        {shown.map((one) => (
          <SeriesRow
            key={one.measure}
            series={one}
            columns={columns}
            targetDay={
              one.targets.length > 0 ? day(one.targets.at(-1)?.since ?? new Date(0), 'd MMMM') : null
            }
          />
        ))}
      </NewestFirst>
      {tried.length > 0 ? (
        <details>
          <summary className="linklike">Measures that no lesson’s clips could carry</summary>
          <ul className="small">
            {tried.map(({ measure, points }) => (
              <li key={measure}>
                <b>{MEASURE_LABEL[measure]}</b>: {points.findLast((point) => point.reason)?.reason}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
};
