import { clockWords } from '@/app/_ui/moment';
import type { eveningLine } from '@/lib/domain/desk/evening-line';
import css from './desk.module.css';

type Line = ReturnType<typeof eveningLine>;
const WIDTH = 900;
const BAR = { top: 26, height: 16 };

const nounOf = (count: number) => (count === 1 ? '1 lesson' : `${count} lessons`);

/** The line over the desk: what is promised against the coach's own pace, in words and as a drawing. */
export const DeskHead = ({
  line,
  pace,
  now,
  timeZone,
}: {
  line: Line;
  pace: number;
  now: Date;
  timeZone: string;
}) => {
  const { steps, finishesAt, lateCount } = line;
  const [first] = steps;
  const isLateAlready = steps.some((step) => step.promisedAt < now);
  const late =
    lateCount === 0
      ? 'Nothing is late.'
      : isLateAlready
        ? `${nounOf(lateCount)} would be late, some are already: start with the first.`
        : `${nounOf(lateCount)} would be late at this pace: start with the first.`;
  return (
    <header className={css.head}>
      <div>
        <h1>{steps.length === 0 ? 'Nothing waits for you' : `${nounOf(steps.length)} waiting`}</h1>
        <p>
          {first
            ? `At your pace of ${pace} min a lesson you finish at ${clockWords(finishesAt, timeZone)}. ${late}`
            : 'New lessons come to the desk as they are sent.'}
        </p>
      </div>
      {first ? <EveningDrawing line={line} now={now} timeZone={timeZone} /> : null}
    </header>
  );
};

/** Work as bars from now on, promises as ticks under the line; both say the same as the words beside it. */
const EveningDrawing = ({ line, now, timeZone }: { line: Line; now: Date; timeZone: string }) => {
  const { steps, finishesAt } = line;
  const from = now.getTime();
  const reach = Math.max(finishesAt.getTime(), ...steps.map((step) => step.promisedAt.getTime()));
  // Promises of the coming days would squeeze tonight into a corner: the drawing ends after twelve hours.
  const until = Math.min(reach, from + 12 * 3_600_000) + 600_000;
  const x = (at: Date) => Math.min(WIDTH, Math.max(0, ((at.getTime() - from) / (until - from)) * WIDTH));
  const shown = steps.filter((step) => step.startsAt.getTime() < until);
  const ticks = steps.filter((step) => step.promisedAt.getTime() <= until);
  const beyond = steps.length - ticks.length;
  return (
    <div className={css.line}>
      <svg
        viewBox={`0 0 ${WIDTH} 78`}
        role="img"
        aria-label={describe(steps.length, ticks, finishesAt, timeZone)}
      >
        <text className={css.mark} x="0" y="14">
          now
        </text>
        {shown.map((step) => (
          <rect
            key={step.lessonId}
            className={step.isLate ? css.late : css.work}
            x={x(step.startsAt) + 1}
            y={BAR.top}
            width={Math.max(2, x(step.endsAt) - x(step.startsAt) - 2)}
            height={BAR.height}
          />
        ))}
        <line className={css.base} x1="0" x2={WIDTH} y1="50" y2="50" />
        {ticks.map((step) => (
          <line
            key={step.lessonId}
            className={css.tick}
            x1={x(step.promisedAt)}
            x2={x(step.promisedAt)}
            y1="50"
            y2="62"
          />
        ))}
        <text className={css.mark} x="0" y="76">
          promised
        </text>
        <text className={css.mark} x={WIDTH} y="76" textAnchor="end">
          {beyond > 0 ? `${beyond} later` : clockWords(new Date(until), timeZone)}
        </text>
      </svg>
    </div>
  );
};

const describe = (count: number, ticks: Line['steps'], finishesAt: Date, timeZone: string) =>
  `${nounOf(count)} of work, finished at ${clockWords(finishesAt, timeZone)}. Promised: ${ticks
    .map((step) => `${clockWords(step.promisedAt, timeZone)}${step.isLate ? ', late at this pace' : ''}`)
    .join('; ')}.`;
