import { VerdictMark } from '@/app/_ui/verdict-mark';
import { CHECKPOINT_NAME, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import css from './compare.module.css';
import type { Compared, ComparedMeasure, ComparedSide } from './compared';

type Props = Compared & { at: Checkpoint; measures: readonly ComparedMeasure[] };

// On a phone the rows of the measures are no table rows any more for the browser, so their roles are said.

/** What was judged and measured under the checkpoint in both lessons. */
export const UnderCheckpoint = ({ a, b, at, measures }: Props) => {
  const items = new Map(
    [...a.checklist, ...b.checklist]
      .filter((item) => item.checkpoint === at)
      .map((item) => [item.id, item.title]),
  );
  const here = measures.filter((measure) => measure.checkpoint === at);
  const [left, right] = [`Lesson ${a.number}, ${a.day}`, `Lesson ${b.number}, ${b.day}`];
  return (
    <section className={css.under} aria-label={`${CHECKPOINT_NAME[at]} in both lessons`}>
      <h2>{CHECKPOINT_NAME[at]}</h2>
      <table className={css.table}>
        <caption className="sr">Verdicts in both lessons</caption>
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col">{left}</th>
            <th scope="col">{right}</th>
          </tr>
        </thead>
        <tbody>
          {[...items].map(([id, title]) => (
            <tr key={id}>
              <th scope="row">{title}</th>
              <td>
                <Judged side={a} itemId={id} />
              </td>
              <td>
                <Judged side={b} itemId={id} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {here.length > 0 ? (
        <table className={`${css.table} ${css.measures}`} role="table">
          <caption className="sr">Measures in both lessons</caption>
          <thead role="rowgroup">
            <tr role="row">
              <th role="columnheader">Measure</th>
              <th role="columnheader">{left}</th>
              <th role="columnheader">{right}</th>
              <th role="columnheader">What may be said</th>
            </tr>
          </thead>
          <tbody role="rowgroup">
            {here.map((measure) => (
              <tr key={measure.name} role="row">
                <th role="rowheader">{measure.name}</th>
                <td role="cell" className="num">
                  {measure.a}
                </td>
                <td role="cell" className="num">
                  {measure.b}
                </td>
                <td role="cell">{measure.sentence}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : (
        <p className="small soft">Nothing was measured at this checkpoint in either lesson.</p>
      )}
    </section>
  );
};

const Judged = ({ side, itemId }: { side: ComparedSide; itemId: string }) => {
  if (!side.checklist.some((item) => item.id === itemId))
    return <span className="small soft">not on the checklist then</span>;
  const verdict = side.sheet?.answers.find((answer) => answer.itemId === itemId)?.verdict ?? null;
  return <VerdictMark verdict={verdict} word={verdict ? undefined : 'not judged'} />;
};
