'use client';

import { Icon } from '@/app/_ui/icon';
import type { Replay, ReplaySnapshot } from '@/lib/review/replay/replay';
import css from './breakdown.module.css';

type Props = {
  snapshot: Readonly<ReplaySnapshot> | null;
  isReady: boolean;
  open: () => Replay | null;
};

const CLOSER = 1.5;
/** A press on an arrow shifts the picture by so many CSS pixels. */
const SHIFT = 60;

/** A look around by hand: every frame and zoom by buttons, for those who neither drag nor pinch. */
export const LookAround = ({ snapshot, isReady, open }: Props) => {
  const isClose = (snapshot?.zoom ?? 1) > 1.01;
  const act = (label: string, content: React.ReactNode, work: (replay: Replay) => void, isBare = true) => (
    <button
      type="button"
      className={isBare ? 'btn bare' : 'btn small'}
      aria-label={isBare ? label : undefined}
      disabled={!isReady}
      onClick={() => {
        const replay = open();
        if (replay) work(replay);
      }}
    >
      {content}
    </button>
  );
  return (
    <div className={css.look} role="group" aria-label="Look around by hand">
      <span className="small soft">Look around</span>
      {act('One frame back', <Icon name="left" />, (replay) => replay.step(-1))}
      {act('One frame on', <Icon name="right" />, (replay) => replay.step(1))}
      {snapshot?.shown ? <span className="num small soft">frame {snapshot.shown.frame}</span> : null}
      <span className={css.push} />
      {act('Closer', <Icon name="plus" />, (replay) => replay.zoomBy(CLOSER))}
      {act('Farther', <Icon name="minus" />, (replay) => replay.zoomBy(1 / CLOSER))}
      {isClose ? (
        <>
          {act('See more to the left', <Icon name="left" />, (replay) =>
            replay.panBy({ left: SHIFT, top: 0 }),
          )}
          {act('See more to the right', <Icon name="right" />, (replay) =>
            replay.panBy({ left: -SHIFT, top: 0 }),
          )}
          {act('See more at the top', <Icon name="up" />, (replay) => replay.panBy({ left: 0, top: SHIFT }))}
          {act('See more at the bottom', <Icon name="down" />, (replay) =>
            replay.panBy({ left: 0, top: -SHIFT }),
          )}
        </>
      ) : null}
    </div>
  );
};
