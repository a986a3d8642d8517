import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import type { PointerKind } from '../../canvas/hit-test';
import type { ScreenPoint, Viewport } from '../../canvas/viewport';

export const TOOL_IDS = [
  'select',
  'line',
  'arrow',
  'plumb',
  'angle',
  'circle',
  'freehand',
  'text',
  'erase',
] as const;
export type ToolId = (typeof TOOL_IDS)[number];

/** What every mark has before it has a shape. */
export type MarkBase = Pick<
  Mark,
  'version' | 'id' | 'clipId' | 'frame' | 'span' | 'chalk' | 'itemId' | 'hidden'
>;

/** What a tool may see and do. */
export interface ToolHost {
  readonly viewport: Viewport;
  /** The marks of this frame as they are shown, also within the gesture. */
  readonly marks: readonly Mark[];
  readonly selectedId: string | null;
  /** The frame, chalk and item of the moment under a fresh id. */
  newBase(): MarkBase;
  /** Shows a mark within the gesture, in place of the one with its id. */
  put(mark: Mark): void;
  /** Takes marks away within the gesture. */
  remove(ids: readonly string[]): void;
  select(id: string | null): void;
  panBy(by: ScreenPoint): void;
  /** Asks for words at a point: those of a text mark, or new ones. */
  askWords(point: FramePoint, mark: Extract<Mark, { kind: 'text' }> | null): void;
}

/** A place under a pointer in both spaces. */
export interface Touched {
  readonly point: FramePoint;
  readonly place: ScreenPoint;
  readonly kind: PointerKind;
}

/** `done` ends the gesture as one entry; `more` waits for further points of the same mark. */
export type Outcome = 'done' | 'more';

/** One tool of the tray, with what it has in hand. `give up` methods leave nothing behind. */
export interface Tool {
  readonly id: ToolId;
  press(host: ToolHost, at: Touched): void;
  drag(host: ToolHost, at: readonly Touched[]): void;
  lift(host: ToolHost, at: Touched): Outcome;
  /** The pointer moved without being pressed. */
  hover(host: ToolHost, at: Touched): void;
  /** Gives up the present press, not the points set before it. Answers whether any are left. */
  bailPress(host: ToolHost): boolean;
  /** Gives up everything in hand. */
  reset(): void;
  /** Points that are set while others are to come. */
  readonly points: readonly FramePoint[];
  /** Sets a point by key; null for tools that place nothing. */
  readonly setPoint: ((host: ToolHost, point: FramePoint) => Outcome) | null;
}
