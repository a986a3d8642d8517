import Link from 'next/link';
import { StatePath } from '@/app/_ui/state-path';
import { VerdictMark } from '@/app/_ui/verdict-mark';
import { CHECKPOINT_NAME, VERDICTS, type Verdict } from '@/lib/domain/checkpoints/checkpoint';
import { ITEM_STATE_WORD, type ItemRow, type ItemState } from '@/lib/domain/progress/item-rows';
import type { LessonColumn } from './columns';
import css from './progress.module.css';

type Props = { columns: readonly LessonColumn[]; items: readonly ItemRow[] };

// On a phone its rows are no table rows any more for the browser, so their roles are said.

/** Every checklist item across lessons, under its checkpoint; each lesson a column, the oldest first. */
export const ItemTable = ({ columns, items }: Props) => (
  <table className={css.grid} role="table">
    <caption className="sr">Checklist items across lessons</caption>
    <colgroup>
      <col className={css.label} />
      {columns.map((column) => (
        <col key={column.lessonId} className={css.column} />
      ))}
    </colgroup>
    <thead role="rowgroup">
      <tr role="row">
        <th role="columnheader" scope="col">
          <span className="slab">Lesson</span>
        </th>
        {columns.map((column) => (
          <th key={column.lessonId} role="columnheader" scope="col">
            <Link href={`/lessons/${column.lessonId}`}>
              <span className={css.number}>{column.number}</span> <span className="small">{column.day}</span>
              <StatePath state={column.state} />
            </Link>
          </th>
        ))}
      </tr>
    </thead>
    <tbody role="rowgroup">
      <tr role="row" className={css.first}>
        <th role="rowheader" scope="row">
          Fix first
        </th>
        {columns.map((column) => (
          <td key={column.lessonId} role="cell">
            <span className="small">{column.fixFirst ?? ''}</span>
          </td>
        ))}
      </tr>
      {items.map((item, index) => {
        const isNew = items[index - 1]?.checkpoint !== item.checkpoint;
        return (
          <tr key={item.itemId} role="row" className={isNew ? css.group : undefined}>
            <th role="rowheader" scope="row">
              {isNew ? <span className={css.checkpoint}>{CHECKPOINT_NAME[item.checkpoint]}</span> : null}
              {item.title}
            </th>
            {item.states.map((state, at) => (
              <td key={columns[at]?.lessonId ?? at} role="cell">
                <StateMark state={state} />
              </td>
            ))}
          </tr>
        );
      })}
    </tbody>
  </table>
);

const isVerdict = (state: ItemState): state is Verdict => (VERDICTS as readonly string[]).includes(state);

const StateMark = ({ state }: { state: ItemState }) =>
  isVerdict(state) ? (
    <VerdictMark verdict={state} />
  ) : state === 'not-judged' ? (
    <VerdictMark verdict={null} word={ITEM_STATE_WORD[state]} />
  ) : (
    <span className={`small soft ${css.none}`}>{ITEM_STATE_WORD[state]}</span>
  );
