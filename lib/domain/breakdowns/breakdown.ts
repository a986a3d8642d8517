import type { PersonRef } from '../lessons/lesson';
import type { BreakdownId, ExportId, LessonId, RemarkId } from '../shared/ids';
import type { BreakdownFault } from './breakdown-faults';

export const BREAKDOWN_STATES = ['recording', 'assembling', 'ready', 'failed', 'removed'] as const;
export type BreakdownState = (typeof BREAKDOWN_STATES)[number];

export const CAPTION_STATES = ['none', 'asked', 'draft', 'ready'] as const;
export type CaptionState = (typeof CAPTION_STATES)[number];

/** How captions get into an exported file: drawn into the picture, as a text track, or not. */
export const EXPORT_CAPTIONS = ['burnt', 'track', 'none'] as const;
export type ExportCaptions = (typeof EXPORT_CAPTIONS)[number];

export const EXPORT_STATES = ['waiting', 'working', 'ready', 'failed', 'cancelled'] as const;
export type ExportState = (typeof EXPORT_STATES)[number];

/** The captions of a breakdown: WebVTT, empty when there are none. `draft`: the coach has not read them over yet. */
export interface CaptionFacts {
  state: CaptionState;
  vtt: string;
  /** The revision that the next save must name. */
  revision: number;
  /** Why the speech service gave none; null when it was not asked or did. */
  fault: string | null;
  mayEdit: boolean;
}

/** How far one person has watched, in milliseconds of the breakdown. */
export interface WatchedFacts {
  positionMs: number;
  furthestMs: number;
  isDone: boolean;
}

/** A file made of a breakdown. `file` is its name in the breakdown's folder once it is there. */
export interface ExportFacts {
  id: ExportId;
  captions: ExportCaptions;
  state: ExportState;
  progress: number; // 0 to 100
  fault: string | null;
  file: string | null;
  at: Date;
}

/** A breakdown as screens need it. Instants are UTC, lengths in milliseconds. */
export interface BreakdownFacts {
  id: BreakdownId;
  lessonId: LessonId;
  title: string;
  state: BreakdownState;
  /** Why it failed; with `ready`: what it lacks. Its sentence stands in `BREAKDOWN_FAULT_FACTS`. */
  fault: BreakdownFault | null;
  by: PersonRef;
  createdAt: Date;
  readyAt: Date | null;
  givenAt: Date | null;
  removedAt: Date | null;
  durationMs: number | null;
  hasVoice: boolean;
  sizeBytes: number;
  /** Names of its files in its folder; null until it was ready once, and after it was removed. */
  voiceFile: string | null;
  timelineFile: string | null;
  captions: CaptionFacts;
  own: WatchedFacts | null;
  /** Who of the player's side watched how far; empty for everybody but staff. */
  watchers: (PersonRef & WatchedFacts & { at: Date })[];
  /** Who asked for captions; empty for everybody but staff. */
  captionAsks: (PersonRef & { at: Date })[];
  /** Whether the viewer may record on, keep, rename or remove it. */
  mayChange: boolean;
  mayExport: boolean;
  /** The viewer's own exports, newest first. */
  exports: ExportFacts[];
}

/** A remark of the viewer's own shelf, in its newest version. */
export interface RemarkFacts {
  id: RemarkId;
  seriesId: RemarkId;
  number: number;
  title: string;
  text: string;
  isSpoken: boolean;
  /** False while the voice of a spoken one is still on its way. */
  isStored: boolean;
  durationMs: number | null;
  createdAt: Date;
}

/** A sentence of a breakdown's captions that holds the words somebody looked for. */
export interface TranscriptHit {
  breakdownId: BreakdownId;
  lessonId: LessonId;
  lessonNumber: number;
  title: string;
  startMs: number;
  endMs: number;
  text: string;
}
