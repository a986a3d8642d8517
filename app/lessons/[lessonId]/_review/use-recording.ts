'use client';

import { useCallback, useEffect, useRef, useState, useSyncExternalStore, type RefObject } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Scene } from '@/lib/domain/breakdowns/event';
import type { Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import type { CommandId } from '@/lib/review/commands';
import type { Chalkboard } from '@/lib/review/input/chalkboard-state';
import type { Player } from '@/lib/review/player/player';
import { createEventTap, type EventTap } from '@/lib/review/record/events';
import { createRecordSession, type RecordSession } from '@/lib/review/record/session';
import { AT_REST, type Recovered, type RecordSnapshot } from '@/lib/review/record/session-state';
import { recordServer } from './record-server';
import { type LessonBreakdowns, useBreakdowns } from './use-breakdowns';

type Given = {
  lessonId: string;
  viewerId: string;
  ready: readonly ClipOnPage[];
  clip: ClipOnPage | null;
  player: Player | null;
  board: Chalkboard | null;
  stage: RefObject<HTMLDivElement | null>;
  checkpoint: Checkpoint;
  itemId: string | null;
  /** What stands beside the swing just now, and every clip of another lesson that may. */
  beside: Scene['beside'];
  besideClips: readonly ClipOnPage[];
  /** Goes back to what was shown when the coach speaks on from an earlier moment. */
  onReturn: (scene: Scene) => void;
};

/** What is open of recording: nothing, the reason before the microphone is asked for, listening, the list. */
export type RecordView = 'none' | 'reason' | 'listen' | 'list';

export interface Recording {
  session: RecordSession | null;
  snapshot: RecordSnapshot;
  view: RecordView;
  setView: (view: RecordView) => void;
  /** What an earlier page or a killed browser left; see `RecordSession.recover`. */
  left: readonly Recovered[];
  lookForLeft: () => void;
  /** The breakdowns of the lesson as the server knows them; null before they are known. */
  breakdowns: LessonBreakdowns['breakdowns'];
  refresh: () => void;
  /** Runs a command of recording; false for any other, and when it does not apply now. */
  run: (id: CommandId) => boolean;
}

const AGAIN_MS = 10_000;
/** As many as a recipe names. */
const MOST_CLIPS = 8;
const nothing = () => () => {};
const atRest = () => AT_REST;

/** Whether the browser would give the microphone without asking; then the reason need not be read first. */
const isAllowed = async () => {
  try {
    return (await navigator.permissions.query({ name: 'microphone' })).state === 'granted';
  } catch {
    return false;
  }
};

/** Recording on this bench: what the coach does to the stage becomes events while a take runs. */
export function useRecording(given: Given): Recording {
  const { lessonId, viewerId, beside, clip, player, board, stage, checkpoint, itemId } = given;
  const [session, setSession] = useState<RecordSession | null>(null);
  const [view, setView] = useState<RecordView>('none');
  const [left, setLeft] = useState<readonly Recovered[]>([]);
  const tap = useRef<EventTap | null>(null);
  const newest = useRef(given);
  useEffect(() => {
    newest.current = given;
  });

  useEffect(() => {
    const listener = createEventTap();
    const made = createRecordSession({
      lessonId,
      personId: viewerId,
      tap: listener,
      onReturn: (scene) => newest.current.onReturn(scene),
      server: recordServer(lessonId),
      clips: () =>
        [...newest.current.ready, ...newest.current.besideClips]
          .slice(0, MOST_CLIPS)
          .flatMap((one) =>
            one.frameCount ? [{ clipId: one.id as string, frameCount: one.frameCount }] : [],
          ),
    });
    tap.current = listener;
    setSession(made);
    let isHere = true;
    void made.recover().then((found) => isHere && setLeft(found));
    return () => {
      isHere = false;
      made.dispose();
      tap.current = null;
      setSession(null);
    };
  }, [lessonId, viewerId]);

  const clipId = clip?.id;
  useEffect(() => {
    const isOpen = session && clipId && player && board && stage.current;
    tap.current?.watch(isOpen ? { clipId, player, board, stage: stage.current as HTMLElement } : null);
  }, [session, clipId, player, board, stage]);
  useEffect(() => tap.current?.around({ checkpoint, itemId, beside }), [session, checkpoint, itemId, beside]);

  const snapshot = useSyncExternalStore(
    session?.subscribe ?? nothing,
    session?.getSnapshot ?? atRest,
    atRest,
  );
  const isBusy = snapshot.phase === 'recording' || snapshot.phase === 'paused';
  useEffect(() => {
    if (!isBusy) return;
    const warn = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener('beforeunload', warn);
    return () => removeEventListener('beforeunload', warn);
  }, [isBusy]);

  const lookForLeft = useCallback(() => void session?.recover().then(setLeft), [session]);
  const run = useCallback(
    (id: CommandId): boolean => {
      if (!session) return false;
      const { phase, ms, kind } = session.getSnapshot();
      const isTaking = phase === 'recording' || phase === 'paused';
      switch (id) {
        case 'record':
          if (phase === 'recording') session.pause();
          else if (phase === 'paused') void session.resume();
          else if (phase === 'ready' || (phase === 'stopped' && kind === 'silent')) void session.start(kind);
          else if (phase === 'countdown' || phase === 'keeping' || phase === 'checking') return false;
          else void isAllowed().then((ok) => (ok ? session.check() : setView('reason')));
          if (phase === 'stopped') setView('none');
          return true;
        case 'record-stop':
          if (!isTaking && phase !== 'countdown') return false;
          void session.stop();
          return true;
        case 'record-again':
          if (!isTaking && phase !== 'stopped') return false;
          setView('none');
          void session.againFrom(Math.max(0, ms - AGAIN_MS));
          return true;
        case 'breakdowns':
          setView('list');
          return true;
        default:
          return false;
      }
    },
    [session],
  );
  return { session, snapshot, view, setView, left, lookForLeft, run, ...useBreakdowns(lessonId) };
}
