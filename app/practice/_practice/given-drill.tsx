import type { ReactNode } from 'react';
import { doseWords, spotWords } from '@/lib/domain/drills/dose';
import type { Given } from '@/lib/domain/drills/given';
import { FEEL_WORD, followUpOf, weekOf } from '@/lib/domain/drills/practice';
import type { Day } from '@/lib/domain/people/age';
import { forHand, GroundDrawing } from './ground-drawing';
import { dayWords } from './day-words';
import { DrillClip } from './drill-clip';
import css from './practice.module.css';
import { Tally } from './tally';

type Props = { given: Given; today: Day; children?: ReactNode };

const FOLLOW_UP_WORD = {
  none: null,
  wanted: 'A swing is asked for by',
  overdue: 'Overdue: a swing was asked for by',
  came: 'The swing that was asked for has come. It was due by',
} as const;

/** One drill as it was given: what to do, where the tee stands, how much, when to stop, and what came of it. */
export const GivenDrill = ({ given, today, children }: Props) => {
  const { drill, dose } = given;
  const week = weekOf(given, today);
  const asks = FOLLOW_UP_WORD[followUpOf({ ...given, isPaused: given.pausedAt !== null }, today)];
  const drawing = drill.drawing && {
    ...forHand(drill.drawing, given.player.bats),
    tee: dose.tee,
  };
  const [last] = given.checkIns;
  return (
    <article className={css.drill} aria-label={drill.title}>
      <h3>{drill.title}</h3>
      {given.cue ? <p className="asked">{given.cue}</p> : null}
      <p className="num">{doseWords(dose)}.</p>
      {drill.clip ? <DrillClip clip={drill.clip} title={drill.title} /> : null}
      {drill.steps.length > 0 ? (
        <ol>
          {drill.steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
      ) : null}
      {drawing ? <GroundDrawing drawing={drawing} /> : null}
      {dose.tee ? <p className="small">The tee stands {spotWords(dose.tee)}.</p> : null}
      {dose.stopRule ? (
        <p>
          <b>When to stop:</b> {dose.stopRule}
        </p>
      ) : null}
      {drill.safety.length > 0 ? <p className="small">{drill.safety.join(' ')}</p> : null}
      <p className="small soft">{drill.standing}.</p>
      {given.endedAt ? (
        <p className="small soft">This drill has ended.</p>
      ) : given.pausedAt ? (
        <p>
          <b>Paused.</b>
        </p>
      ) : (
        <p className="small">
          <Tally done={week.done} asked={week.asked} />
        </p>
      )}
      {last ? (
        <p className="small soft num">
          Last: {dayWords(last.day)}, {last.setsDone} {last.setsDone === 1 ? 'set' : 'sets'}, {last.repsDone}{' '}
          swings{last.feel ? `, felt ${FEEL_WORD[last.feel - 1]}` : ''}
          {last.painLevel > 0 ? `, pain ${last.painLevel}, ${last.painWhere}` : ''}
          {last.note ? `. “${last.note}”` : ''}
        </p>
      ) : null}
      {asks && given.swingBy ? (
        <p className="small">
          {asks} <b>{dayWords(given.swingBy)}</b>.
        </p>
      ) : null}
      {children}
    </article>
  );
};
