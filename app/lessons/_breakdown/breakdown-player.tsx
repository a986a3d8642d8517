'use client';

import { useCallback, useRef } from 'react';
import { Icon } from '@/app/_ui/icon';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { clockOfMs, lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import css from './breakdown.module.css';
import { BreakdownChapters, BreakdownControls } from './breakdown-controls';
import { BreakdownWords } from './breakdown-words';
import { LookAround } from './look-around';
import { useJoinMoments } from './moments';
import { useBreakdown } from './use-breakdown';
import { useCaptionsShown } from './use-captions-shown';
import { useStageInput } from './use-stage-input';

type Props = {
  breakdown: BreakdownOnPage;
  clips: readonly ClipOnPage[];
  checklist: Checklist;
  title: string;
  /** Whether it answers addresses that name only a moment. */
  isFirst: boolean;
  /** Whether how far it is watched is kept: for the player's side. */
  isKept: boolean;
};

/** One breakdown to watch: voice, exact frames, captions, chapters, the words of it, and a look around by hand. */
export const BreakdownPlayer = ({ breakdown, clips, checklist, title, isFirst, isKept }: Props) => {
  const stage = useRef<HTMLDivElement>(null);
  const whole = useRef<HTMLDivElement>(null);
  const { loaded, fault, snapshot, open, reload } = useBreakdown({
    breakdown,
    clips,
    checklist,
    stage,
    isKept,
  });
  const [isShown, setShown] = useCaptionsShown();
  useStageInput(stage, open, (snapshot?.zoom ?? 1) > 1.01);
  const goTo = useCallback(
    (ms: number, canPlay: boolean) => {
      const replay = open(ms);
      whole.current?.scrollIntoView({ block: 'start' });
      if (canPlay) replay?.play();
    },
    [open],
  );
  useJoinMoments({
    breakdownId: breakdown.id,
    title,
    isFirst,
    isReady: loaded !== null,
    ms: snapshot?.ms ?? null,
    goTo,
  });

  const [firstClip] = loaded?.timeline.clips ?? [];
  const clip = clips.find((one) => one.id === firstClip?.clipId) ?? clips[0];
  const isUpright = (clip?.height ?? 9) > (clip?.width ?? 16);
  const caption = snapshot?.caption ?? '';
  const trouble = fault ?? snapshot?.fault?.forPeople ?? null;
  const length = breakdown.durationMs ?? 0;
  const own = breakdown.own;
  return (
    <div className={`night bleed ${css.player}`} ref={whole} data-breakdown={breakdown.id}>
      <div className={isUpright ? `${css.stage} ${css.upright}` : css.stage}>
        {snapshot === null && clip ? <img className={css.poster} src={clip.poster} alt="" /> : null}
        <div
          ref={stage}
          className={css.picture}
          tabIndex={0}
          role="application"
          aria-label={`${title}. Space plays and stops, the arrows go frame by frame, plus and minus zoom, Escape goes back to the coach.`}
          data-shown-frame={snapshot?.shown?.frame}
          data-state={snapshot?.state}
        />
        {snapshot === null ? (
          <button
            type="button"
            className={css.bigplay}
            disabled={loaded === null}
            onClick={() => {
              open()?.play();
              stage.current?.focus({ preventScroll: true });
            }}
          >
            <Icon name="play" className={css.bigicon} />
            <span>
              {own && !own.isDone && own.positionMs > 0
                ? `Go on at ${clockOfMs(own.positionMs)}`
                : 'Play the breakdown'}
              <span className={css.length}>{lengthOfMs(length)}</span>
            </span>
          </button>
        ) : null}
        {snapshot?.isWaiting ? (
          <p className={css.waiting} role="status">
            Loading
          </p>
        ) : null}
      </div>
      {isShown && loaded && loaded.cues.length > 0 ? (
        // Only written cues are read out: spoken ones would be heard twice.
        <p className={css.caption} aria-live={breakdown.hasVoice ? 'off' : 'polite'}>
          {caption}
        </p>
      ) : null}
      {snapshot?.state === 'looking' ? (
        <p className={css.looking} role="status">
          You are looking around. {breakdown.by.name} waits at {clockOfMs(snapshot.ms)}.{' '}
          <button type="button" className="btn small" onClick={() => open()?.comeBack()}>
            Back to the coach
          </button>
        </p>
      ) : null}
      {trouble ? (
        <p className={css.trouble} role="alert">
          {trouble}{' '}
          <button type="button" className="linklike" onClick={() => (fault ? reload() : open()?.retry())}>
            Try again
          </button>
        </p>
      ) : null}
      {loaded?.misfits.map((misfit) => (
        <p key={misfit.clipId} className={css.trouble}>
          {misfit.sentence}
        </p>
      ))}
      <BreakdownControls
        durationMs={loaded?.timeline.durationMs ?? length}
        snapshot={snapshot}
        chapters={loaded?.chapters ?? []}
        isReady={loaded !== null}
        hasCaptions={(loaded?.cues.length ?? 0) > 0}
        isShown={isShown}
        onShown={setShown}
        open={open}
        onFullScreen={() => {
          if (document.fullscreenElement) void document.exitFullscreen();
          else void whole.current?.requestFullscreen?.();
        }}
      />
      <LookAround snapshot={snapshot} isReady={loaded !== null} open={open} />
      <BreakdownChapters
        chapters={loaded?.chapters ?? []}
        isReady={loaded !== null}
        open={open}
        snapshot={snapshot}
      />
      {loaded ? (
        <BreakdownWords
          loaded={loaded}
          clips={clips}
          checklist={checklist}
          ms={snapshot?.ms ?? null}
          isDraft={breakdown.captions.state === 'draft'}
          onGo={(ms) => goTo(ms, true)}
        />
      ) : null}
    </div>
  );
};
