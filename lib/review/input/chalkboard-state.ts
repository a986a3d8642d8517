import type { Look } from '@/lib/domain/breakdowns/event';
import type { Chalk, FramePoint, Mark } from '@/lib/domain/marks/mark';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { ScreenPoint, Viewport } from '../canvas/viewport';
import type { CommandId } from '../commands';
import type { ToolId } from './tools/tool';

/** Words being written: where the field stands on the stage, and what it starts with. */
export interface WordsAsked {
  readonly point: FramePoint;
  readonly place: ScreenPoint;
  /** The text mark being changed, null for a new one. */
  readonly markId: string | null;
  readonly text: string;
}

/** What the tray, the list of marks and the live region show. */
export interface ChalkboardSnapshot {
  readonly tool: ToolId;
  readonly chalk: Chalk;
  readonly frame: number;
  /** The marks of this frame, hidden ones and the one in hand included, in the order they were drawn. */
  readonly marksHere: readonly Mark[];
  readonly selectedId: string | null;
  /** The handle that arrow keys move; null for the whole mark. */
  readonly handle: number | null;
  /** The cross that arrow keys move, when it is shown. */
  readonly cursor: FramePoint | null;
  /** Points of a mark that waits for more of them. */
  readonly pointsSet: number;
  readonly words: WordsAsked | null;
  /** Fingers pan and only the pen draws. */
  readonly isPenMode: boolean;
  readonly isChalkShown: boolean;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** Times the fitted size. */
  readonly zoom: number;
  /** How the picture lies on the stage, for what others draw over it; null before there is a stage. */
  readonly viewport: Viewport | null;
  /** For a polite live region. `turn` grows with every sentence, so that the same one is heard twice. */
  readonly announcement: { readonly text: string; readonly turn: number };
}

/** Before anything is shown or drawn. */
export const BOARD_AT_REST: ChalkboardSnapshot = {
  tool: 'select',
  chalk: 'white',
  frame: 0,
  marksHere: [],
  selectedId: null,
  handle: null,
  cursor: null,
  pointsSet: 0,
  words: null,
  isPenMode: false,
  isChalkShown: true,
  canUndo: false,
  canRedo: false,
  zoom: 1,
  viewport: null,
  announcement: { text: '', turn: 0 },
};

export interface ChalkboardOptions {
  /** An element with a size and `position: relative`; it gets the canvases and is listened to. */
  stage: HTMLElement;
  /** Size of the review rendition in its pixels. */
  picture: PictureSize;
  clipId: string;
  /** Every mark of the sheet, of other clips too. */
  marks: readonly Mark[];
  /** A fresh UUID. */
  newId: () => string;
  /** After every finished gesture, undo and redo: all marks as they are to be kept. */
  onMarks: (marks: readonly Mark[]) => void;
  /** When undo or redo changed a mark on another frame or clip: show it. */
  onGoTo: (clipId: string, frame: number) => void;
}

export interface Chalkboard {
  getSnapshot(): ChalkboardSnapshot;
  subscribe(listener: () => void): () => void;
  /** Shows a picture as the frame with this index; what was half drawn on another frame is given up. */
  showPicture(source: CanvasImageSource, frame: number): void;
  /** Takes marks that changed elsewhere (joined from another tab, the list's eye, a new sheet). */
  adoptMarks(marks: readonly Mark[]): void;
  /** The checklist item that new marks explain; null for none. */
  setItem(itemId: string | null): void;
  /** How many frames a new mark stays, 1 to 600. */
  setSpan(frames: number): void;
  select(markId: string | null): void;
  setHidden(markId: string, isHidden: boolean): void;
  remove(markId: string): void;
  /** Keeps the words of the open field; empty words take a new mark back and rub an old one out. */
  writeWords(text: string): void;
  dropWords(): void;
  /** Moves and zooms the picture for what lies over the stage and takes the pointers. */
  panBy(by: ScreenPoint): void;
  zoomAbout(about: ScreenPoint, factor: number): void;
  /** What is seen: the middle as fractions of the rendition, and times the fitted size. */
  look(): Look;
  /** The point of the frame under a place of the window (client coordinates). */
  pointAt(clientX: number, clientY: number): FramePoint;
  /** Every mark of the sheet as it looks now, and the ids of those that the hand still changes. */
  allMarks(): { readonly all: readonly Mark[]; readonly inHand: ReadonlySet<string> };
  /** Told whenever the look or a mark changes, within a gesture too. */
  onScene(listener: () => void): () => void;
  /** Runs a command that belongs to the chalkboard; answers false for any other, and when it does not apply now. */
  run(command: CommandId): boolean;
  /** Ends a run of nudges as one entry; the key listener calls it on key up. */
  endNudge(): void;
  dispose(): void;
}
