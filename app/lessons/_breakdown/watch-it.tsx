'use client';

import { Icon } from '@/app/_ui/icon';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import { clockOfMs, lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import css from './breakdown.module.css';
import { useGoToMoment } from './moments';

/** The one action of a lesson that came back with a breakdown: watch it, or go on where one was. */
export const WatchIt = ({ breakdown }: { breakdown: BreakdownOnPage }) => {
  const goTo = useGoToMoment();
  const { id, own, durationMs, captions, hasVoice } = breakdown;
  const fromMs = own && own.positionMs > 0 && !own.isDone ? own.positionMs : 0;
  const words = [
    durationMs === null ? null : lengthOfMs(durationMs),
    captions.vtt !== '' ? 'with captions' : hasVoice ? null : 'to read, without a voice',
  ].filter((word) => word !== null);
  return (
    <p className={css.watch}>
      <a
        className="btn do big wide"
        href={`#breakdown-${id}`}
        onClick={(event) => {
          if (goTo(id, fromMs)) event.preventDefault();
        }}
      >
        <Icon name="play" />
        {fromMs > 0 ? `Go on watching at ${clockOfMs(fromMs)}` : 'Watch the breakdown'}
      </a>
      <span className="small soft num">{words.join(', ')}</span>
    </p>
  );
};
