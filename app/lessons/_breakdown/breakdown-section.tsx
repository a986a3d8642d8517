'use client';

import Link from 'next/link';
import { useState, useTransition } from 'react';
import { useAskAgain } from '@/app/_ui/use-ask-again';
import { answerOf } from '@/app/_ui/answer-of';
import { Moment } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { askForCaptionsAction } from '@/app/lessons/breakdown-actions';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { BreakdownDesk } from './breakdown-desk';
import { BreakdownPlayer } from './breakdown-player';
import css from './breakdown.module.css';
import { ExportDialog } from './export-dialog';
import { titleOf } from './title-of';

type Props = {
  breakdowns: readonly BreakdownOnPage[];
  clips: readonly ClipOnPage[];
  checklist: Checklist;
  isStaff: boolean;
  /** Whether one that is ready can be given to the player by itself: the lesson went back already. */
  canGive: boolean;
  now: Date;
  timeZone: string;
};

/** The breakdowns of a lesson, to watch; for the coach also what can be done with each. */
export const BreakdownSection = (props: Props) => {
  const { breakdowns } = props;
  const isMoving = breakdowns.some((one) => one.state === 'assembling');
  useAskAgain(isMoving);
  const firstPlayable = breakdowns.find((one) => one.timeline !== null)?.id;
  return breakdowns.map((breakdown, at) => (
    <BreakdownCard
      key={breakdown.id}
      {...props}
      breakdown={breakdown}
      title={titleOf(breakdown, at, breakdowns.length)}
      isFirst={breakdown.id === firstPlayable}
    />
  ));
};

type CardProps = Props & { breakdown: BreakdownOnPage; title: string; isFirst: boolean };

const BreakdownCard = (props: CardProps) => {
  const { breakdown, title, clips, checklist, isStaff, isFirst, now, timeZone } = props;
  const [isExporting, setExporting] = useState(false);
  const isPlayable = breakdown.timeline !== null && breakdown.state !== 'removed';
  if (breakdown.state === 'removed')
    return (
      <p className={`soft ${css.card}`} id={`breakdown-${breakdown.id}`}>
        {title} of <Moment at={breakdown.createdAt} now={now} timeZone={timeZone} as="day" /> was removed
        {breakdown.removedAt ? (
          <>
            {' '}
            <Moment at={breakdown.removedAt} now={now} timeZone={timeZone} as="day" />
          </>
        ) : null}
        . What was written and drawn stays.
      </p>
    );
  return (
    <article className={css.card} aria-label={title} id={`breakdown-${breakdown.id}`}>
      <h3>
        {title}{' '}
        <span className="small soft">
          {breakdown.durationMs === null ? '' : `${lengthOfMs(breakdown.durationMs)}, `}
          {breakdown.by.name}
          {breakdown.hasVoice ? '' : ', without a voice'}
        </span>
      </h3>
      {isPlayable ? (
        <BreakdownPlayer
          breakdown={breakdown}
          clips={clips}
          checklist={checklist}
          title={title}
          isFirst={isFirst}
          isKept={!isStaff}
        />
      ) : null}
      <div className={css.facts}>
        {isPlayable && !isStaff ? <AskForCaptions breakdown={breakdown} /> : null}
        <p className="acts">
          {isPlayable && breakdown.mayExport ? (
            <button type="button" className="btn small" onClick={() => setExporting(true)}>
              Make a video file
            </button>
          ) : null}
          {breakdown.captions.mayEdit && isPlayable && breakdown.hasVoice ? (
            <Link className="btn small" href={`/lessons/${breakdown.lessonId}/captions/${breakdown.id}`}>
              {breakdown.captions.vtt === '' ? 'Write captions' : 'Change the captions'}
            </Link>
          ) : null}
        </p>
        {isStaff ? <BreakdownDesk {...props} /> : null}
      </div>
      <ExportDialog
        isOpen={isExporting}
        onClose={() => setExporting(false)}
        breakdown={breakdown}
        clips={clips}
        checklist={checklist}
        title={title}
      />
    </article>
  );
};

const AskForCaptions = ({ breakdown }: { breakdown: BreakdownOnPage }) => {
  const [answer, setAnswer] = useState<{ isAsked: boolean; words: string } | null>(null);
  const [isBusy, start] = useTransition();
  if (breakdown.captions.vtt !== '' || !breakdown.hasVoice) return null;
  if (answer?.isAsked) return <Notice kind="done">{answer.words}</Notice>;
  return (
    <>
      <p className="small">
        It has no captions.{' '}
        <button
          type="button"
          className="linklike"
          disabled={isBusy}
          onClick={() =>
            start(async () => {
              const told = await answerOf(
                askForCaptionsAction({ breakdownId: breakdown.id }),
                'The connection is lost. Try again in a moment.',
              );
              setAnswer({
                isAsked: told.ok,
                words: told.ok
                  ? `Asked. ${breakdown.by.name} is told that captions are needed.`
                  : told.message,
              });
            })
          }
        >
          Ask for captions
        </button>
      </p>
      {answer ? <Notice kind="refused">{answer.words}</Notice> : null}
    </>
  );
};
