'use client';

import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { Icon } from '@/app/_ui/icon';
import { Notice } from '@/app/_ui/notice';
import { WrittenRemarks } from '@/app/remarks/_remarks/written-remarks';
import { saveCaptionsAction } from '@/app/lessons/breakdown-actions';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import { addCue, shiftCues } from '@/lib/domain/captions/edit-cues';
import { cueAt } from '@/lib/domain/captions/find-cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import { CaptionsKeeper } from '@/lib/review/captions/captions-keeper';
import css from './captions.module.css';
import { CaptionsConflict } from './captions-conflict';
import { CueRow } from './cue-row';
import { ImportCaptions } from './import-captions';
import { useVoice } from './use-voice';

const STATE_WORD = {
  kept: 'All kept',
  changed: 'Not kept yet',
  saving: 'Keeping it',
  lost: 'The connection is lost. Your words are here; it is tried again by itself',
  conflict: 'Somebody else changed them',
  refused: 'Could not be kept',
} as const;

const NEW_LASTS_MS = 2000;
const SHIFT_MS = 100;

/** The captions of a breakdown, written against its voice. Saves by itself. */
export const CaptionsEditor = ({ breakdown }: { breakdown: BreakdownOnPage & { voice: string } }) => {
  const [keeper] = useState(
    () =>
      new CaptionsKeeper(
        {
          cues: breakdown.captions.vtt === '' ? [] : parseVtt(breakdown.captions.vtt).cues,
          isReady: breakdown.captions.state === 'ready',
          revision: breakdown.captions.revision,
        },
        async (list) => {
          const answer = await saveCaptionsAction({ breakdownId: breakdown.id, ...list });
          return answer.ok ? answer.value : { kind: 'refused', sentence: answer.message };
        },
      ),
  );
  const snapshot = useSyncExternalStore(keeper.subscribe, keeper.getSnapshot, keeper.getSnapshot);
  const { cues, isReady, state, refusal, canUndo } = snapshot;
  const voice = useVoice(breakdown.voice);
  const list = useRef<HTMLOListElement>(null);
  const durationMs = breakdown.durationMs ?? 0;
  const now = cueAt(cues, voice.ms);

  useEffect(() => {
    const leave = (event: BeforeUnloadEvent) => {
      const { state: isAt } = keeper.getSnapshot();
      if (isAt === 'kept') return;
      void keeper.flush();
      event.preventDefault();
    };
    const hide = () => void (document.hidden && keeper.flush());
    addEventListener('beforeunload', leave);
    document.addEventListener('visibilitychange', hide);
    return () => {
      removeEventListener('beforeunload', leave);
      document.removeEventListener('visibilitychange', hide);
      void keeper.flush();
    };
  }, [keeper]);

  const focusRow = (at: number) => {
    const row = list.current?.querySelector(`[data-cue="${at}"] textarea`);
    if (row instanceof HTMLElement) row.focus();
  };
  const addHere = (text = 'New caption') => {
    const fromMs = voice.nowMs();
    const next = cues.find((cue) => cue.fromMs > fromMs);
    const toMs = Math.min(
      fromMs + NEW_LASTS_MS,
      next?.fromMs ?? Infinity,
      Math.max(durationMs, fromMs + 200),
    );
    if (!keeper.edit((before) => addCue(before, { fromMs, toMs, text }))) return;
    const at = keeper.getSnapshot().cues.findIndex((cue) => cue.fromMs === fromMs && cue.text === text);
    // Once the new row is drawn.
    requestAnimationFrame(() => {
      focusRow(at);
      const field = document.activeElement;
      if (field instanceof HTMLTextAreaElement) field.select();
    });
  };
  return (
    <div className="stack">
      <div className={css.bar}>
        <button
          type="button"
          className="btn"
          aria-label={voice.isPlaying ? 'Stop the voice' : 'Play the voice'}
          onClick={voice.toggle}
        >
          <Icon name={voice.isPlaying ? 'pause' : 'play'} />
        </button>
        <span className="num">
          {clockOfMs(voice.ms)} <span className="soft">of {clockOfMs(durationMs)}</span>
        </span>
        <input
          type="range"
          className={css.seek}
          min={0}
          max={Math.max(1, durationMs)}
          step={100}
          value={Math.min(voice.ms, durationMs)}
          aria-label="Moment of the voice"
          aria-valuetext={`${clockOfMs(voice.ms)} of ${clockOfMs(durationMs)}`}
          onChange={(event) => voice.seek(Number(event.target.value))}
        />
        <button type="button" className="btn" onClick={() => addHere()}>
          New caption here
        </button>
        <WrittenRemarks into="captions, at this moment" onPick={(text) => addHere(text)} />
        <p className={css.state} role="status">
          {STATE_WORD[state]}
        </p>
      </div>
      {voice.fault ? <Notice kind="refused">{voice.fault}</Notice> : null}
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      {cues.length === 0 ? (
        <p className="soft">
          No captions yet. Play the voice; press “New caption here” where a sentence begins, and write it.
        </p>
      ) : (
        <ol ref={list} className={css.list}>
          {cues.map((cue, at) => (
            <CueRow
              // By its place: a caption has no other name, and typing in it must not lose the cursor.
              key={at}
              cue={cue}
              at={at}
              isLast={at === cues.length - 1}
              isNow={cue === now}
              keeper={keeper}
              voice={voice}
              onFocusRow={focusRow}
            />
          ))}
        </ol>
      )}
      <p className="acts">
        <button type="button" className="btn small" disabled={!canUndo} onClick={() => keeper.undo()}>
          Take back
        </button>
        <button
          type="button"
          className="btn small"
          disabled={cues.length === 0}
          onClick={() => keeper.edit((before) => shiftCues(before, -SHIFT_MS))}
        >
          All a tenth of a second earlier
        </button>
        <button
          type="button"
          className="btn small"
          disabled={cues.length === 0}
          onClick={() => keeper.edit((before) => shiftCues(before, SHIFT_MS))}
        >
          All a tenth of a second later
        </button>
        <ImportCaptions keeper={keeper} cues={cues} title={breakdown.title} />
      </p>
      <label className={css.ready}>
        <input
          type="checkbox"
          checked={isReady}
          onChange={(event) => keeper.setReady(event.target.checked)}
        />
        <span>I have read them over. Until then the player sees them marked as not read over.</span>
      </label>
      <p className="small soft">
        In the words of a caption: Alt and Enter plays it, Control and Enter splits it at the cursor, Alt and
        the arrows go to the caption above and below.
      </p>
      <CaptionsConflict keeper={keeper} snapshot={snapshot} />
    </div>
  );
};
