import type { Chapter } from '@/lib/domain/breakdowns/chapters';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';
import type { PlayClock } from '../player/clock';
import type { OpenPlayer } from './replay-view';
import type { Progress } from './watched';

export interface ReplayOptions {
  /** As `parseTimeline` gives it. */
  timeline: Timeline;
  /** An element with a size of its own and a position; canvases are laid into it and follow its size. */
  stage: HTMLElement;
  /** With its `src` set; null for a silent breakdown. It stays the caller's to unload. */
  voice: HTMLAudioElement | null;
  /**
   * Opens the player of a clip, once for each clip. Players stay the caller's to dispose, after the replay. Rejects
   * with a `CagepostError` when the clip cannot be shown: the replay says so and plays on.
   */
  players: OpenPlayer;
  captions?: readonly Cue[] | undefined;
  chapters?: readonly Chapter[] | undefined;
  /** Where this viewer was, and how far they have come, in milliseconds. */
  startMs?: number | undefined;
  furthestMs?: number | undefined;
  refreshVoice?: (() => Promise<string>) | undefined;
  /** At most every five seconds while playing, and at pause, end, a hidden tab and dispose. */
  onProgress?: ((progress: Progress) => void) | undefined;
  clock?: PlayClock | undefined;
}
