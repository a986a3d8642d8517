import type { DeskRow } from '@/lib/data/desk-select';
import { dayIn } from '@/lib/domain/people/age';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { CoachChoice } from './coach-words';
import { DeskRowView } from './desk-row';
import { sectionsOf } from './due';
import css from './desk.module.css';

type Props = {
  rows: DeskRow[];
  /** Addresses of the stills, by clip. */
  posters: ReadonlyMap<string, string>;
  isReturned: boolean;
  viewer: Viewer;
  coaches: CoachChoice[];
  now: Date;
  timeZone: string;
};

/** The lessons of a list: what is overdue first, then by promise; returned ones latest first. */
export const DeskTable = ({ rows, posters, isReturned, viewer, coaches, now, timeZone }: Props) => {
  const sections = isReturned ? [{ title: '', rows }] : sectionsOf(rows, now, timeZone);
  const today = dayIn(timeZone, now);
  return (
    <table className={css.desk}>
      <caption className="sr">Lessons in order of promise</caption>
      <thead>
        <tr>
          <th scope="col">{isReturned ? 'Returned' : 'Promised by'}</th>
          <th scope="col">
            <span className="sr">Still</span>
          </th>
          <th scope="col">Player and question</th>
          <th scope="col">Follows</th>
          <th scope="col">State</th>
          <th scope="col">Needs care</th>
          <th scope="col">Money</th>
          <th scope="col">
            <span className="sr">Do</span>
          </th>
        </tr>
      </thead>
      {sections.map((section) => (
        <tbody key={section.title}>
          {section.title ? (
            <tr className={css.section}>
              <th scope="rowgroup" colSpan={8}>
                {section.title} <span className="num soft">{section.rows.length}</span>
              </th>
            </tr>
          ) : null}
          {section.rows.map((row) => (
            <DeskRowView
              key={row.id}
              row={row}
              isFirst={row.id === rows[0]?.id}
              viewerId={viewer.personId}
              isLead={isLead(viewer)}
              coaches={coaches}
              now={now}
              today={today}
              timeZone={timeZone}
              poster={posters.get(row.posterClipId ?? '') ?? null}
            />
          ))}
        </tbody>
      ))}
    </table>
  );
};
