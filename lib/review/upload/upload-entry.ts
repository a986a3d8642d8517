import type { RateHint } from './rate-hint';
import type { UploadFault } from './upload-faults';

/**
 * `waiting` in line, `uploading`, `retrying` (the network is away; it goes on by itself), `paused` by the sender,
 * `stored` (the server has every byte and says from here on whether it is preparing or ready), `failed` with a reason.
 */
export type UploadState = 'waiting' | 'uploading' | 'retrying' | 'paused' | 'stored' | 'failed';

/** Whether a reload or a killed browser would lose the file: not once a safety copy is `kept`. */
export type SafetyCopy = 'writing' | 'kept' | 'full' | 'unavailable' | 'not-needed';

/** One clip on its way, as a page shows it. */
export interface UploadEntry {
  readonly clipId: string;
  /** Null for the clip of a drill. */
  readonly lessonId: string | null;
  readonly fileName: string;
  readonly sizeBytes: number;
  readonly state: UploadState;
  readonly sentBytes: number;
  readonly bytesPerSecond: number | null;
  readonly secondsLeft: number | null;
  readonly fault: UploadFault | null;
  /** What to tell the sender about the fault; null without one. */
  readonly sentence: string | null;
  readonly canRetry: boolean;
  readonly safetyCopy: SafetyCopy;
  readonly rateHint: RateHint | null;
}

export interface UploadSnapshot {
  readonly entries: readonly UploadEntry[];
}

/** Told when the browser has no room for the safety copy. Sending goes on all the same. */
export const SAFETY_COPY_FULL =
  'Your browser has no room to keep a copy of this clip. Leave this page open until it is sent.';
