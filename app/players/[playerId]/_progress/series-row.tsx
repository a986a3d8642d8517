import { changeSentence, numberWords, unlikeWords } from '@/lib/domain/progress/change-words';
import { targetWords } from '@/lib/domain/measures/target';
import { MEASURE_LABEL, MEASURE_MEANING } from '@/lib/domain/measures/words';
import type { Series, SeriesPoint } from '@/lib/domain/progress/series';
import type { LessonColumn } from './columns';
import css from './progress.module.css';
import { SeriesChart } from './series-chart';

type Props = {
  series: Series;
  columns: readonly LessonColumn[];
  /** "20 April": the day on which the present target was set. */
  targetDay: string | null;
};

/** A measure: its newest number, what may be said of the change, its target; the chart, and the same as a table. */
export const SeriesRow = ({ series, columns, targetDay }: Props) => {
  const { newest, compared, reference, measure, targets } = series;
  const target = targets.at(-1);
  const name = MEASURE_LABEL[measure];
  const nameOf = (point: SeriesPoint) => `lesson ${point.number}`;
  return (
    <section className={css.row} aria-label={name}>
      <div className={css.text}>
        <h3>{name}</h3>
        {newest?.occasion ? (
          <p className="num">
            <b>{numberWords(newest.occasion)}</b> in {nameOf(newest)}
          </p>
        ) : null}
        {compared?.occasion && reference?.occasion ? (
          <p className="small">
            {compared === newest ? 'Against' : `Lesson ${compared.number} against`} {nameOf(reference)}:{' '}
            {changeSentence(reference.occasion, compared.occasion)}
          </p>
        ) : null}
        {newest && compared && newest !== compared ? (
          <p className="small">
            Lesson {newest.number} is not held against them: {unlikeWords(newest.unlikeBefore)}.
          </p>
        ) : null}
        {target && target.to === null ? (
          <p className="small grass">
            Target since {targetDay}: {targetWords({ measure, low: target.low, high: target.high })}
          </p>
        ) : (
          <p className="small soft">No target is set.</p>
        )}
        <details>
          <summary>Read it as a table</summary>
          <p className="small soft">{MEASURE_MEANING[measure]}</p>
          <table className={css.twin}>
            <caption className="sr">{name} in each lesson</caption>
            <thead>
              <tr>
                <th scope="col">Lesson</th>
                <th scope="col">Value</th>
                <th scope="col">Said of it</th>
              </tr>
            </thead>
            <tbody>
              {series.points.map((point) => (
                <tr key={point.lessonId}>
                  <th scope="row">
                    {point.number}, {columns[point.index]?.day}
                  </th>
                  <td>
                    {point.occasion && point.value !== null ? numberWords(point.occasion) : 'not measured'}
                  </td>
                  <td>{pointWords(point)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      </div>
      <SeriesChart series={series} referenceName={reference ? nameOf(reference) : null} />
    </section>
  );
};

const pointWords = (point: SeriesPoint): string => {
  if (point.value === null)
    return point.reason ?? (point.occasion ? '' : 'Nothing was set to measure it from.');
  if (point.unlikeBefore.length > 0)
    return `Not joined to the one before: ${unlikeWords(point.unlikeBefore)}.`;
  return point.isEstimate ? (point.occasion?.measure.reason ?? 'An estimate.') : '';
};
