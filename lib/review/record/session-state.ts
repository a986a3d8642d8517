import type { Scene } from '@/lib/domain/breakdowns/event';
import type { Piece, Recipe } from '@/lib/domain/breakdowns/timeline';
import type { MicDevice } from './mic';
import type { Patience } from '../upload/patience';
import type { EventTap } from './events';
import type { SendPart, SendTrouble } from './part-sender';
import type { RecordFault } from './record-faults';
import type { PartsOfTake } from './take-book';
import type { TakeStore } from './take-store';

/**
 * `idle` nothing is open; `checking` the browser asks for the microphone; `ready` it is heard; `countdown`;
 * `recording`; `paused`; `stopped` there is something to listen to and keep; `keeping` the rest is being sent;
 * `kept` the server joins it; `fault` no microphone, with a reason.
 */
export type RecordPhase =
  | 'idle'
  | 'checking'
  | 'ready'
  | 'countdown'
  | 'recording'
  | 'paused'
  | 'stopped'
  | 'keeping'
  | 'kept'
  | 'fault';

export interface RecordSnapshot {
  readonly phase: RecordPhase;
  /** Length of the breakdown so far, in milliseconds. */
  readonly ms: number;
  readonly kind: 'voice' | 'silent';
  /** How loud it is, 0 to 1; see `Mic.level`. */
  readonly level: number;
  /** Whether the microphone gave anything louder than silence in the last seconds. */
  readonly isHeard: boolean;
  readonly device: MicDevice | null;
  readonly devices: readonly MicDevice[];
  /** Whole seconds until the take begins, while `countdown`. */
  readonly startsIn: number;
  /** What the coach should know while it goes on: the limit, no room, a lost connection. */
  readonly warning: string | null;
  /** What just happened: why it paused, stopped or could not begin. */
  readonly sentence: string | null;
  readonly fault: RecordFault | null;
  readonly trouble: SendTrouble | null;
  readonly partsMade: number;
  readonly partsSent: number;
  readonly breakdownId: string | null;
  readonly pieces: readonly Piece[];
  readonly canUndo: boolean;
  /** The written cue that stands under the picture. */
  readonly caption: string;
}

export const AT_REST: RecordSnapshot = {
  phase: 'idle',
  ms: 0,
  kind: 'voice',
  level: 0,
  isHeard: true,
  device: null,
  devices: [],
  startsIn: 0,
  warning: null,
  sentence: null,
  fault: null,
  trouble: null,
  partsMade: 0,
  partsSent: 0,
  breakdownId: null,
  pieces: [],
  canUndo: false,
  caption: '',
};

/** What the server says when a breakdown is to be kept. */
export type KeepAnswer =
  | { readonly is: 'kept' }
  | { readonly is: 'missing'; readonly missing: readonly { segmentId: string; numbers: readonly number[] }[] }
  /** The sentence is for people. */
  | { readonly is: 'refused'; readonly sentence: string };

/** The server, as far as recording needs it. Each may throw for a lost connection. */
export interface RecordServer {
  /** Tells of the breakdown before its first part; throws `PartFailure` when it is refused. */
  begin(breakdown: { breakdownId: string; hasVoice: boolean }): Promise<void>;
  keep(kept: { breakdownId: string; recipe: Recipe; parts: readonly PartsOfTake[] }): Promise<KeepAnswer>;
  remove(breakdownId: string): Promise<void>;
}

/** A breakdown that an earlier page or a killed browser left behind. */
export interface Recovered {
  readonly breakdownId: string;
  readonly startedAt: string;
  readonly ms: number;
}

/** What a session of recording is made from. */
export interface SessionOptions {
  lessonId: string;
  personId: string;
  /** The clips of the lesson that can be spoken about. */
  clips: () => Recipe['clips'];
  tap: EventTap;
  server: RecordServer;
  /** The coach speaks on from a moment at which this was shown: the bench goes back to it. */
  onReturn?: (scene: Scene) => void;
  store?: TakeStore;
  send?: SendPart;
  patience?: Patience;
  /** How long the coach has between the press and the take, in milliseconds. */
  countdownMs?: number;
  /** The microphone's sound as it is, for signals that are not speech. */
  isRawSound?: boolean;
}
