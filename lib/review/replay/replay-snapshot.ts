import type { Chapter } from '@/lib/domain/breakdowns/chapters';
import type { Scene } from '@/lib/domain/breakdowns/event';
import type { CagepostError } from '@/lib/domain/shared/errors';

/** How fast a breakdown may be heard. */
export const REPLAY_SPEEDS = [0.5, 0.75, 1, 1.25, 1.5, 2] as const;
export type ReplaySpeed = (typeof REPLAY_SPEEDS)[number];

/** `looking`: stopped, the person looks around by hand; the coach's place is kept. */
export type ReplayState = 'paused' | 'playing' | 'looking';

/** How the voice stands: `none` for a silent breakdown, `failed` when it plays on without its voice. */
export type VoiceState = 'loading' | 'ok' | 'failed' | 'none';

/** What a screen needs to know of a replay. */
export interface ReplaySnapshot {
  state: ReplayState;
  /** It plays, and has to wait for sound or picture. */
  isWaiting: boolean;
  ms: number;
  durationMs: number;
  speed: ReplaySpeed;
  /** What the coach showed at `ms`. */
  scene: Scene;
  /** The frame whose picture is really drawn; null before the first. */
  shown: { clipId: string; frame: number } | null;
  /** Times the whole picture. */
  zoom: number;
  chapter: Chapter | null;
  /** What is to be read under the picture just now, "" for nothing. */
  caption: string;
  voice: VoiceState;
  /** What is missing, as a sentence; everything else plays on. */
  fault: CagepostError | null;
  /** The latest moment that was played, not only jumped to. */
  furthestMs: number;
  /** It stands at its end. */
  isOver: boolean;
}
