'use client';

import { useEffect, useMemo, useRef } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { describeTimeline } from '@/lib/domain/breakdowns/describe';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import css from './breakdown.module.css';
import type { LoadedBreakdown } from './open-breakdown';

type Props = {
  loaded: LoadedBreakdown;
  clips: readonly ClipOnPage[];
  checklist: Checklist;
  /** Where the replay is; null before it is open. */
  ms: number | null;
  /** Whether the coach has not read the captions over yet. */
  isDraft: boolean;
  onGo: (ms: number) => void;
};

/** All that is said, and all that is done, in words: each line goes to its moment. */
export const BreakdownWords = ({ loaded, clips, checklist, ms, isDraft, onGo }: Props) => {
  const { cues, timeline } = loaded;
  const done = useMemo(
    () =>
      describeTimeline(timeline, {
        checklist,
        clipName: (id) => {
          const at = clips.findIndex((clip) => clip.id === id);
          const view = clips[at]?.view;
          return view ? VIEW_WORD[view].toLowerCase() : `clip ${at + 1}`;
        },
        sizeOf: (id) => {
          const clip = clips.find((one) => one.id === id);
          return { width: clip?.width ?? 16, height: clip?.height ?? 9 };
        },
      }),
    [timeline, checklist, clips],
  );
  const said = cues.map((cue) => ({ atMs: cue.fromMs, toMs: cue.toMs, text: cue.text }));
  return (
    <div className={css.words}>
      {said.length > 0 ? (
        <details>
          <summary>All that is said</summary>
          {isDraft ? <p className="small soft">These words were not read over by the coach yet.</p> : null}
          <Lines lines={said} ms={ms} onGo={onGo} />
        </details>
      ) : null}
      <details>
        <summary>What is shown, in words</summary>
        <Lines
          lines={done.map((line, at) => ({ ...line, toMs: done[at + 1]?.atMs ?? timeline.durationMs }))}
          ms={ms}
          onGo={onGo}
        />
      </details>
    </div>
  );
};

type Line = { atMs: number; toMs: number; text: string };

const Lines = ({
  lines,
  ms,
  onGo,
}: {
  lines: readonly Line[];
  ms: number | null;
  onGo: (ms: number) => void;
}) => {
  const current = ms === null ? -1 : lines.findLastIndex((line) => line.atMs <= ms && ms < line.toMs);
  const list = useRef<HTMLOListElement>(null);
  useEffect(() => {
    const box = list.current;
    const line = box?.children[current];
    if (!box || !(line instanceof HTMLElement) || box.contains(document.activeElement)) return;
    // Only the list scrolls, never the page under somebody's eyes.
    const place = line.offsetTop - box.offsetTop;
    if (place < box.scrollTop || place + line.offsetHeight > box.scrollTop + box.clientHeight)
      box.scrollTop = place - box.clientHeight / 3;
  }, [current]);
  return (
    <ol ref={list} className={css.lines}>
      {lines.map((line, at) => (
        <li key={`${line.atMs}-${at}`}>
          <button
            type="button"
            className={css.lineto}
            aria-current={at === current ? 'true' : undefined}
            onClick={() => onGo(line.atMs)}
          >
            <span className="num small soft">{clockOfMs(line.atMs)}</span>
            <span>{line.text}</span>
          </button>
        </li>
      ))}
    </ol>
  );
};
