'use client';

import { useEffect, useRef, useState } from 'react';
import { Icon } from '@/app/_ui/icon';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { Cue } from '@/lib/domain/captions/cue';
import { joinWithNext, removeCue, setText, setTimes, splitCue } from '@/lib/domain/captions/edit-cues';
import { readTimestamp, writeTimestamp } from '@/lib/domain/captions/timestamp';
import type { CaptionsKeeper } from '@/lib/review/captions/captions-keeper';
import css from './captions.module.css';
import type { Voice } from './use-voice';

type Props = {
  cue: Cue;
  at: number;
  isLast: boolean;
  isNow: boolean;
  keeper: CaptionsKeeper;
  voice: Voice;
  onFocusRow: (at: number) => void;
};

const KEEP_AFTER_MS = 1000;

/** One caption: when it stands, its words, and what can be done with it. */
export const CueRow = ({ cue, at, isLast, isNow, keeper, voice, onFocusRow }: Props) => {
  const words = useRef<HTMLTextAreaElement>(null);
  // What is typed, until it is left: a half-written time or an empty line is no caption yet.
  const [typed, setTyped] = useState<string | null>(null);
  const name = `Caption ${at + 1}`;
  const keepWords = () => {
    if (typed === null || typed === cue.text) return setTyped(null);
    if (keeper.edit((cues) => setText(cues, at, typed))) setTyped(null);
  };
  // A page that ends while somebody types must not take the words along.
  useEffect(() => {
    const said = typed?.trim() ?? '';
    if (said === '' || said === cue.text) return;
    const timer = setTimeout(() => keeper.edit((cues) => setText(cues, at, said)), KEEP_AFTER_MS);
    return () => clearTimeout(timer);
  }, [typed, cue.text, at, keeper]);
  const split = () => {
    const place = words.current?.selectionStart ?? 0;
    const text = typed ?? cue.text;
    const now = voice.nowMs();
    const isInside = now > cue.fromMs && now < cue.toMs;
    if (
      keeper.edit((cues) =>
        splitCue(text === cue.text ? cues : setText(cues, at, text), at, place, isInside ? now : undefined),
      )
    )
      setTyped(null);
  };
  const setEnd = (end: 'fromMs' | 'toMs', ms: number) =>
    keeper.edit((cues) => setTimes(cues, at, { fromMs: cue.fromMs, toMs: cue.toMs, [end]: ms }));
  return (
    <li className={css.cue} aria-current={isNow ? 'true' : undefined} data-cue={at}>
      <div className={css.times}>
        <TimeField label={`${name} begins`} ms={cue.fromMs} onKeep={(ms) => setEnd('fromMs', ms)} />
        <button
          type="button"
          className="btn small"
          aria-label={`${name}: begins now, at ${clockOfMs(voice.ms)}`}
          onClick={() => setEnd('fromMs', voice.nowMs())}
        >
          Begins now
        </button>
        <TimeField label={`${name} ends`} ms={cue.toMs} onKeep={(ms) => setEnd('toMs', ms)} />
        <button
          type="button"
          className="btn small"
          aria-label={`${name}: ends now, at ${clockOfMs(voice.ms)}`}
          onClick={() => setEnd('toMs', voice.nowMs())}
        >
          Ends now
        </button>
      </div>
      <div>
        <textarea
          ref={words}
          className="write"
          rows={2}
          aria-label={`${name}, its words`}
          aria-keyshortcuts="Alt+Enter Control+Enter Alt+ArrowUp Alt+ArrowDown"
          value={typed ?? cue.text}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={keepWords}
          onKeyDown={(event) => {
            if (event.key === 'Enter' && event.altKey) {
              event.preventDefault();
              voice.playBetween(cue.fromMs, cue.toMs);
            } else if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) {
              event.preventDefault();
              split();
            } else if (event.altKey && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
              event.preventDefault();
              onFocusRow(at + (event.key === 'ArrowUp' ? -1 : 1));
            }
          }}
        />
        <p className={css.acts}>
          <button
            type="button"
            className="btn small"
            aria-label={`Play ${name.toLowerCase()}`}
            onClick={() => voice.playBetween(cue.fromMs, cue.toMs)}
          >
            <Icon name="play" /> Play it
          </button>
          <button
            type="button"
            className="btn quiet small"
            aria-label={`Split ${name.toLowerCase()} at the cursor`}
            // The press must not take the cursor out of the words first.
            onMouseDown={(event) => event.preventDefault()}
            onClick={split}
          >
            Split at the cursor
          </button>
          <button
            type="button"
            className="btn quiet small"
            aria-label={`Join ${name.toLowerCase()} with the next`}
            disabled={isLast}
            onClick={() => keeper.edit((cues) => joinWithNext(cues, at))}
          >
            Join with the next
          </button>
          <button
            type="button"
            className="btn quiet small"
            aria-label={`Remove ${name.toLowerCase()}`}
            onClick={() => keeper.edit((cues) => removeCue(cues, at))}
          >
            Remove
          </button>
        </p>
      </div>
    </li>
  );
};

const TimeField = ({ label, ms, onKeep }: { label: string; ms: number; onKeep: (ms: number) => void }) => {
  const [typed, setTyped] = useState<string | null>(null);
  const text = typed ?? writeTimestamp(ms).replace(/^00:/, '');
  const read = typed === null ? ms : readTimestamp(typed);
  const keep = () => {
    if (read !== null) {
      if (read !== ms) onKeep(read);
      setTyped(null);
    }
  };
  return (
    <input
      className={`write num ${css.time}`}
      aria-label={label}
      aria-invalid={read === null ? true : undefined}
      inputMode="decimal"
      value={text}
      onChange={(event) => setTyped(event.target.value)}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep();
        if (event.key === 'Escape') setTyped(null);
      }}
    />
  );
};
