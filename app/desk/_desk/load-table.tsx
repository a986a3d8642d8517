import Link from 'next/link';
import { deskAddress } from '@/lib/domain/desk/desk-query';
import type { CoachLoad } from '@/lib/domain/desk/load';
import { awayWords, medianWords, type DeskMoment } from './coach-words';
import css from './desk.module.css';

/** Who has what, folded away: for each coach what waits, what is due, and how long the latest took. */
export const LoadTable = ({ loads, moment }: { loads: CoachLoad[]; moment: DeskMoment }) => (
  <details className={css.fold}>
    <summary>Who has what</summary>
    <div className={css.scroll} tabIndex={0} role="region" aria-label="Who has what">
      <table className={css.loads}>
        <caption className="sr">Lessons by coach</caption>
        <thead>
          <tr>
            <th scope="col">Coach</th>
            <th scope="col">Waiting</th>
            <th scope="col">In review</th>
            <th scope="col">Due today</th>
            <th scope="col">Overdue</th>
            <th scope="col">Sent to returned</th>
            <th scope="col">Hours</th>
            <th scope="col">Minors</th>
          </tr>
        </thead>
        <tbody>
          {loads.map((load) => (
            <tr key={load.id}>
              <th scope="row">
                <Link href={`/desk?${deskAddress({ filter: 'all', coachId: load.id })}`}>{load.name}</Link>
              </th>
              <td className="num">{load.waiting}</td>
              <td className="num">{load.inReview}</td>
              <td className="num">{load.dueToday}</td>
              <td className="num">{load.overdue > 0 ? <b>{load.overdue}</b> : 0}</td>
              <td className="num">{medianWords(load)}</td>
              <td>{awayWords(load, moment)}</td>
              <td>{load.isCleared ? 'open' : 'closed: checks missing'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
    <p className="small soft">“Sent to returned” is the median of each coach’s latest twelve lessons.</p>
  </details>
);
