import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { type Checkpoint, type Verdict } from '@/lib/domain/checkpoints/checkpoint';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { answer, answerOf, putCue, setFixFirst } from '@/lib/domain/review/edits';
import type { CommandId } from '@/lib/review/commands';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import type { Chalkboard } from '@/lib/review/input/chalkboard-state';
import type { Player } from '@/lib/review/player/player';
import { SPEEDS } from '@/lib/review/player/playhead';
import type { BenchDialog } from './bench';

interface Parts {
  lesson: LessonDetail;
  ready: readonly ClipOnPage[];
  clipId: string | null;
  checkpoint: Checkpoint;
  itemId: string | null;
  player: Player | null;
  board: Chalkboard | null;
  saver: SheetSaver | null;
  choose: (checkpoint: Checkpoint, itemId?: string | null) => void;
  pinHere: (checkpoint: Checkpoint) => void;
  setItemId: (id: string | null) => void;
  setClipId: (id: string) => void;
  setDialog: (dialog: BenchDialog) => void;
  goFullScreen: () => void;
  /** Answers the commands of recording; false for any other. */
  runRecording: (id: CommandId) => boolean;
  /** Begins to place corners or points, or ends it. */
  toggleMeasuring: (mode: 'ground' | 'points') => boolean;
}

/** Runs a command of the bench; every key, button and menu item comes through it. False when it does not apply now. */
export type RunCommand = (id: CommandId) => boolean;

const FAR = 10;
const focusOn = (selector: string) => {
  const element = document.querySelector<HTMLElement>(selector);
  element?.focus();
  return element !== null;
};

/** The bench's answer to every command of `lib/review/commands.ts`. Those of the chalk are the board's. */
export function benchCommands(parts: Parts): RunCommand {
  const { lesson, ready, clipId, checkpoint, itemId, player, board, saver } = parts;
  const items = lesson.checklist.filter((item) => item.checkpoint === checkpoint);

  const withPlayer = (work: (player: Player) => void) => {
    if (player) work(player);
    return player !== null;
  };
  const moveItem = (by: 1 | -1) => {
    const all = lesson.checklist;
    const at = all.findIndex((item) => item.id === itemId);
    const next = at < 0 ? items[0] : all[at + by];
    if (!next) return false;
    if (next.checkpoint === checkpoint) parts.setItemId(next.id);
    else parts.choose(next.checkpoint, next.id);
    return true;
  };
  const judge = (verdict: Verdict | null) => {
    if (!saver || !itemId) return false;
    const frame = player?.getSnapshot().shownFrame ?? null;
    saver.edit((sheet) =>
      answer(sheet, itemId, {
        verdict,
        clipId: frame === null ? null : clipId,
        frame: clipId ? frame : null,
      }),
    );
    return true;
  };
  const fixFirst = () => {
    if (!saver || !itemId) return false;
    saver.edit((sheet) => {
      if (sheet.fixFirst?.itemId === itemId) return setFixFirst(sheet, null);
      return setFixFirst(sheet, {
        itemId,
        sentence: sheet.fixFirst?.sentence || answerOf(sheet, itemId).note.slice(0, 160),
      });
    });
    return true;
  };
  const changeSpeed = (by: 1 | -1) =>
    withPlayer((it) => {
      const at = SPEEDS.indexOf(it.getSnapshot().speed);
      it.setSpeed(SPEEDS[Math.min(SPEEDS.length - 1, Math.max(0, at + by))] ?? 1);
    });
  const loopEnd = (end: 'from' | 'to') =>
    withPlayer((it) => {
      const { loop, shownFrame, wantedFrame } = it.getSnapshot();
      const frame = shownFrame ?? wantedFrame;
      const last = it.source.frameCount - 1;
      const from = end === 'from' ? frame : (loop?.from ?? 0);
      const to = end === 'to' ? frame : (loop?.to ?? last);
      if (from !== to) it.setLoop({ from, to });
    });
  const moveClip = (by: 1 | -1) => {
    const next = ready[ready.findIndex((clip) => clip.id === clipId) + by];
    if (next) parts.setClipId(next.id);
    return next !== undefined;
  };
  const addCue = () => {
    if (!saver) return false;
    const id = crypto.randomUUID();
    saver.edit((sheet) => putCue(sheet, { id, text: '', focus: 'external' }));
    // After React has drawn its field.
    requestAnimationFrame(() => focusOn(`[data-cue="${id}"]`));
    return true;
  };
  const open = (dialog: BenchDialog) => {
    parts.setDialog(dialog);
    return true;
  };
  const go = (to: Checkpoint) => {
    parts.choose(to);
    return true;
  };
  const pinAt = (to: Checkpoint) => {
    parts.pinHere(to);
    return clipId !== null;
  };

  const own: Partial<Record<CommandId, () => boolean>> = {
    'play-pause': () => withPlayer((it) => (it.getSnapshot().mode === 'playing' ? it.pause() : it.play())),
    'step-back': () => withPlayer((it) => it.step(-1)),
    'step-forward': () => withPlayer((it) => it.step(1)),
    'jump-back': () => withPlayer((it) => it.step(-FAR)),
    'jump-forward': () => withPlayer((it) => it.step(FAR)),
    'first-frame': () => withPlayer((it) => it.goTo(0)),
    'last-frame': () => withPlayer((it) => it.goTo(it.source.frameCount - 1)),
    'previous-clip': () => moveClip(-1),
    'next-clip': () => moveClip(1),
    'loop-from': () => loopEnd('from'),
    'loop-to': () => loopEnd('to'),
    'loop-off': () => withPlayer((it) => it.setLoop(null)),
    slower: () => changeSpeed(-1),
    faster: () => changeSpeed(1),
    'go-stance': () => go('stance'),
    'go-load': () => go('load'),
    'go-foot-strike': () => go('foot_strike'),
    'go-contact': () => go('contact'),
    'go-finish': () => go('finish'),
    'pin-stance': () => pinAt('stance'),
    'pin-load': () => pinAt('load'),
    'pin-foot-strike': () => pinAt('foot_strike'),
    'pin-contact': () => pinAt('contact'),
    'pin-finish': () => pinAt('finish'),
    'next-item': () => moveItem(1),
    'previous-item': () => moveItem(-1),
    'verdict-set': () => judge('set'),
    'verdict-close': () => judge('close'),
    'verdict-off': () => judge('off'),
    'verdict-not-seen': () => judge('not_seen'),
    'verdict-none': () => judge(null),
    'fix-first': fixFirst,
    ground: () => parts.toggleMeasuring('ground'),
    points: () => parts.toggleMeasuring('points'),
    'write-note': () => focusOn('[data-note]'),
    'add-cue': addCue,
    'full-screen': () => {
      parts.goFullScreen();
      return true;
    },
    help: () => open('help'),
    preview: () => open('preview'),
    'return-lesson': () => open('return'),
  };
  return (id) => own[id]?.() ?? (parts.runRecording(id) || (board?.run(id) ?? false));
}
