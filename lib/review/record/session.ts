import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import { SnapshotStore } from '../player/snapshot-store';
import { keepBook } from './keep-book';
import { countDown, createLevelWatch } from './level-watch';
import { listMics, openMic, type Mic } from './mic';
import { openBook } from './open-book';
import type { PartSender } from './part-sender';
import { AT_LIMIT, NEAR_LIMIT, sentenceOf, sentenceOfInterruption, type RecordFault } from './record-faults';
import { startSilentTake, startVoiceTake, type TakeRecorder, type TakeSink } from './recorder';
import { leftBehind, tidyTakes, type KnownBreakdown } from './recovery';
import { createEdits } from './session-edits';
import { AT_REST, type Recovered, type RecordSnapshot, type SessionOptions } from './session-state';
import type { TakeBook } from './take-book';
import { holdRecording, openTakeStore, type KeptBreakdown } from './take-store';

/** Recording on one bench; `getSnapshot` and `subscribe` fit `useSyncExternalStore`. */
export type RecordSession = ReturnType<typeof createRecordSession>;

const NEAR_END_MS = MAX_BREAKDOWN_MS - 60_000;
const SHORTEST_MS = 300;
/** Before the limit by as much as a browser may take to stop. */
const STOP_AT_MS = MAX_BREAKDOWN_MS - 300;

/** A session of one bench. Nothing is asked for or opened before `check`. */
export const createRecordSession = (options: SessionOptions) => {
  const { lessonId, personId, tap } = options;
  const takes = options.store ?? openTakeStore();
  const view = new SnapshotStore<RecordSnapshot>(AT_REST);
  let mic: Mic | null = null;
  let book: TakeBook | null = null;
  let sender: PartSender | null = null;
  let take: { recorder: TakeRecorder; segmentId: string; base: number } | null = null;
  let held: Promise<(() => void) | null> | null = null;
  let turn = 0;
  let isDisposed = false;

  const state = view.getSnapshot;
  const say = (change: Partial<RecordSnapshot>): void => {
    if (!isDisposed) view.set(change);
  };
  const fail = (fault: RecordFault) => say({ phase: 'fault', fault, sentence: sentenceOf(fault) });
  const msNow = () => (take ? take.base + take.recorder.nowMs() : (book?.ms ?? 0));
  const showBook = () =>
    say({
      ms: msNow(),
      pieces: book?.pieces ?? [],
      breakdownId: book?.breakdownId ?? null,
      canUndo: edits.canUndo,
    });

  const edits = createEdits({ book: () => (take ? null : book), onChange: showBook });

  const watch = createLevelWatch(
    () => mic?.level() ?? 0,
    (level, isHeard) => {
      const { phase, kind } = state();
      const ms = msNow();
      if (phase === 'paused') watch.forgive();
      say({ level, ms, isHeard: isHeard || kind === 'silent' || phase === 'paused' });
      if (phase !== 'recording') return;
      if (ms >= STOP_AT_MS) void stop().then(() => say({ sentence: AT_LIMIT }));
      else if (ms >= NEAR_END_MS) say({ warning: NEAR_LIMIT });
    },
  );

  const closeMic = () => {
    mic?.close();
    mic = null;
  };
  const hold = async (): Promise<boolean> => {
    const isMine = (await (held ??= holdRecording(lessonId, personId))) !== null;
    if (isMine) return true;
    held = null;
    fail('other-tab');
    return false;
  };
  const letGo = () => {
    void held?.then((release) => release?.());
    held = null;
  };

  const open = async (kept: KeptBreakdown, isLeft: boolean) => {
    const { server, send, patience } = options;
    const hasVoice = () => state().kind === 'voice';
    const opened = await openBook(kept, { takes, server, send, patience, hasVoice, say }, isLeft);
    ({ book, sender } = opened);
    return opened.book;
  };

  /** Asks for the microphone, this one or any, and listens to it. */
  const check = async (deviceId?: string): Promise<void> => {
    if (state().phase === 'recording' || state().phase === 'countdown') return;
    closeMic();
    const mine = ++turn;
    if (!(await hold())) return;
    say({ phase: 'checking', kind: 'voice', fault: null, sentence: null });
    const answer = await openMic({ deviceId, ...(options.isRawSound && { isRaw: true }) });
    if (mine !== turn || isDisposed) return answer.ok ? answer.mic.close() : undefined;
    if (!answer.ok) {
      watch.stop();
      return fail(answer.fault);
    }
    mic = answer.mic;
    watch.start();
    say({ phase: 'ready', device: mic.device, devices: await listMics() });
  };

  const sink = (segmentId: string): TakeSink => ({
    onSlice: ({ fromMs, toMs, voice }) =>
      book?.append(segmentId, { fromMs, toMs, events: tap.drain() }, voice),
    onInterruption: (why, isOver) => {
      if (take?.segmentId !== segmentId) return;
      tap.rest(true);
      say({ phase: 'paused', sentence: sentenceOfInterruption(why) });
      if (isOver) void endTake().then(closeMic);
    },
  });

  /** Begins a take, the first or a further one, by the microphone that was checked or without one. */
  const start = async (kind: 'voice' | 'silent' = 'voice'): Promise<void> => {
    if (take || state().phase === 'countdown') return;
    if (kind === 'voice' && !mic) return check();
    const mine = ++turn;
    if (!(await hold())) return;
    if (kind === 'silent') closeMic();
    say({ kind });
    await countDown(
      options.countdownMs ?? 3000,
      () => mine === turn,
      (startsIn) => say({ phase: 'countdown', startsIn, sentence: null }),
    );
    if (mine !== turn || isDisposed) return;
    const clips = options.clips();
    if (!tap.scene() || clips.length === 0) return fail('no-clip');
    const fresh = { lessonId, personId, clips, takes: [], pieces: [], openTake: null, isSent: false };
    const startedAt = new Date().toISOString();
    const to = book ?? (await open({ ...fresh, breakdownId: crypto.randomUUID(), startedAt }, false));
    const segmentId = crypto.randomUUID();
    const base = to.ms;
    let recorder: TakeRecorder;
    try {
      recorder =
        kind === 'voice' && mic ? startVoiceTake(mic, sink(segmentId)) : startSilentTake(sink(segmentId));
    } catch {
      return fail('unsupported');
    }
    const { voiceType } = recorder;
    const begun = to.begin({ segmentId, kind, voiceType });
    tap.begin(recorder.nowMs);
    take = { recorder, segmentId, base };
    edits.forgetUndo();
    watch.start();
    say({ phase: 'recording', sentence: null, warning: null, fault: null });
    await begun;
    showBook();
  };

  /** Ends the take that runs; what it holds is used behind the rest. */
  const endTake = async (): Promise<void> => {
    const ending = take;
    if (!ending || !book) return;
    tap.end();
    const lengthMs = await ending.recorder.stop();
    if (take !== ending) return;
    take = null;
    const events = tap.drain();
    if (events.length > 0) book.append(ending.segmentId, { fromMs: lengthMs, toMs: lengthMs, events }, null);
    await book.end(Math.min(lengthMs, MAX_BREAKDOWN_MS - ending.base));
    showBook();
  };

  const pause = () => {
    if (state().phase !== 'recording' || !take) return;
    take.recorder.pause();
    tap.rest(true);
    say({ phase: 'paused', sentence: null });
  };
  const resume = async (): Promise<void> => {
    if (state().phase !== 'paused') return;
    // Its microphone is gone: the next one is checked, and a new take begins.
    if (!take) return check();
    take.recorder.resume();
    tap.rest(false);
    say({ phase: 'recording', sentence: null });
  };
  const stop = async (): Promise<void> => {
    turn += 1;
    await endTake();
    watch.stop();
    closeMic();
    say({ phase: book ? 'stopped' : 'idle', level: 0 });
    showBook();
  };

  /** Ends what runs, leaves out what was said after `ms`, and speaks on from there. */
  const againFrom = async (ms: number): Promise<void> => {
    const { kind } = state();
    await endTake();
    const scene = book?.sceneAt(Math.max(0, ms));
    await edits.cutBackTo(ms);
    if (scene) options.onReturn?.(scene);
    say({ phase: 'stopped' });
    if (kind === 'voice' && !mic) return check();
    await start(kind);
  };
  const close = () => {
    sender?.dispose();
    sender = book = null;
    edits.forgetUndo();
    letGo();
  };
  /** Sends what is left and has the breakdown joined on the server. Everything stays here until that is done. */
  const keep = async (): Promise<void> => {
    await stop();
    if (!book || !sender) return;
    if (book.ms < SHORTEST_MS) return say({ sentence: sentenceOf('too-short'), fault: 'too-short' });
    say({ phase: 'keeping', sentence: null, fault: null });
    const sentence = await keepBook(book, sender, options.server);
    if (sentence) return say({ phase: 'stopped', sentence, fault: 'not-taken' });
    close();
    say({ ...AT_REST, phase: 'kept' });
  };
  /** Throws the whole breakdown away, here and on the server. */
  const discard = async (): Promise<void> => {
    await stop();
    const gone = book;
    const hasBegun = (sender?.getSnapshot().sent ?? 0) > 0;
    close();
    await gone?.remove();
    if (gone && hasBegun) await options.server.remove(gone.breakdownId).catch(() => undefined);
    say(AT_REST);
  };

  /** What an earlier page or a killed browser left of this lesson. */
  const recover = async (): Promise<Recovered[]> => (book ? [] : leftBehind(takes, lessonId, personId));
  /** Goes on with one of `recover`: it can be listened to, spoken on, cut and kept. */
  const takeUp = async (breakdownId: string): Promise<void> => {
    const kept = (await takes.find(lessonId, personId)).find((one) => one.breakdownId === breakdownId);
    if (!kept || book || !(await hold())) return;
    if (kept.isSent) await takes.put({ ...kept, isSent: false });
    const hasVoice = kept.takes.some((one) => one.kind === 'voice');
    say({ kind: hasVoice ? 'voice' : 'silent' });
    await open({ ...kept, isSent: false }, true);
    say({ phase: 'stopped', sentence: null, fault: null });
    showBook();
  };
  return {
    getSnapshot: view.getSnapshot,
    subscribe: view.subscribe,
    check,
    start,
    pause,
    resume,
    stop,
    againFrom,
    undo: edits.undo,
    cutBackTo: edits.cutBackTo,
    removeStretch: edits.removeStretch,
    insertRemark: edits.insertRemark,
    keep,
    discard,
    recover,
    takeUp,
    /** Throws away what an earlier page left. */
    forget: takes.remove,
    /** Brings the copies of this browser in step with what the server says of this lesson's breakdowns. */
    tidy: (known: readonly KnownBreakdown[]) => tidyTakes(takes, { lessonId, personId }, known),
    /** The breakdowns of this lesson whose takes are still in this browser. */
    copies: async () => (await takes.find(lessonId, personId)).map((one) => one.breakdownId),
    /** A short sentence that stands under the picture from now on; "" takes it away. */
    setCaption: (caption: string) => {
      tap.around({ caption: caption.slice(0, 200) });
      say({ caption: caption.slice(0, 200) });
    },
    retrySending: () => sender?.retry(),
    /** The recipe and what its takes hold, for listening before it is kept. */
    book: () => book,
    /** Leaves the microphone check or a fault without recording. */
    leave: () => {
      turn += 1;
      watch.stop();
      closeMic();
      say({ phase: book ? 'stopped' : 'idle', sentence: null, fault: null });
      if (book) return;
      letGo();
    },
    dispose: () => {
      const last = book;
      turn += 1;
      watch.stop();
      void endTake()
        .catch(() => undefined)
        .then(() => last?.settled())
        .finally(() => {
          isDisposed = true;
          closeMic();
          close();
          view.clear();
        });
    },
  };
};
