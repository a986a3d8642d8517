'use client';

import { useEffect, useRef, useState, type ReactNode, type RefObject } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import type { Chalkboard, ChalkboardSnapshot } from '@/lib/review/input/chalkboard-state';
import type { PlayerSnapshot } from '@/lib/review/player/player';
import css from './bench.module.css';

type Props = {
  stage: RefObject<HTMLDivElement | null>;
  clip: ClipOnPage | null;
  clips: readonly ClipOnPage[];
  fault: string | null;
  snapshot: Readonly<PlayerSnapshot>;
  chalk: ChalkboardSnapshot;
  board: Chalkboard | null;
  onRetry: () => void;
  /** What lies over the picture. */
  children?: ReactNode;
};

/** The frame, as large as it can be, with the chalk over it. Focus it to place marks by arrow keys. */
export const Stage = ({ stage, clip, clips, fault, snapshot, chalk, board, onRetry, children }: Props) => {
  const trouble =
    fault ??
    snapshot.fault?.forPeople ??
    (snapshot.network === 'waiting' ? 'The connection is lost. It goes on by itself.' : null);
  const isOpening = clip !== null && snapshot.shownFrame === null && !trouble;
  return (
    <div className={css.stagebox}>
      <div
        ref={stage}
        className={css.stage}
        tabIndex={0}
        role="application"
        aria-label={
          clip
            ? `Frame ${snapshot.shownFrame ?? 0} of ${Math.max(0, (clip.frameCount ?? 1) - 1)}, ${chalk.marksHere.length} marks. Enter places a mark by keys.`
            : 'No clip is ready'
        }
        data-shown-frame={snapshot.shownFrame ?? undefined}
      >
        {chalk.words && board ? (
          <Words key={chalk.words.markId ?? 'new'} words={chalk.words} board={board} />
        ) : null}
      </div>
      {children}
      {isOpening ? (
        <p className={css.notice} role="status">
          Opening the clip
        </p>
      ) : null}
      {clip === null ? <NoClip clips={clips} /> : null}
      {trouble ? (
        <p className={css.notice} role="alert">
          {trouble}{' '}
          <button type="button" className="linklike" onClick={onRetry}>
            Try again
          </button>
        </p>
      ) : null}
    </div>
  );
};

const NoClip = ({ clips }: { clips: readonly ClipOnPage[] }) => {
  const [first] = clips;
  const words =
    first?.state === 'failed'
      ? first.fault
        ? factsOfFault(first.fault).forPeople
        : 'The clip could not be used.'
      : first?.state === 'preparing'
        ? `The clip is being prepared, ${first.progress} % done. Load the page again in a moment.`
        : 'The clip is not here yet. The sender’s phone still has to send it.';
  return (
    <p className={css.notice} role="status">
      {words}
    </p>
  );
};

/** The field for words on the picture, at the point where they will stand. */
const Words = ({ words, board }: { words: NonNullable<ChalkboardSnapshot['words']>; board: Chalkboard }) => {
  const [text, setText] = useState(words.text);
  const field = useRef<HTMLInputElement>(null);
  const { left, top } = words.place;
  // Set from here: the content policy takes no style attributes in the page that the server sends.
  useEffect(() => {
    const element = field.current;
    if (!element) return;
    element.style.left = `${left}px`;
    element.style.top = `${top}px`;
    element.focus();
  }, [left, top]);
  return (
    <input
      ref={field}
      className={css.words}
      aria-label="Words on the picture"
      maxLength={80}
      value={text}
      onChange={(event) => setText(event.target.value)}
      onPointerDown={(event) => event.stopPropagation()}
      onBlur={() => board.writeWords(text)}
      onKeyDown={(event) => {
        event.stopPropagation();
        if (event.key === 'Enter') board.writeWords(text);
        if (event.key === 'Escape') board.dropWords();
      }}
    />
  );
};
