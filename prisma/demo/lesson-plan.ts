import type { ClipView, LedgerKind, PitchMode, SwingResult } from '../../lib/data/generated/enums';
import type { Verdict } from '../../lib/domain/checkpoints/checkpoint';

/** What a coach wrote about a demo lesson; becomes a sheet with pins, verdicts and marks. */
export interface DemoReview {
  coach: string;
  verdicts: Record<string, [Verdict, string?]>;
  fixFirst: { itemId: string; sentence: string } | null;
  cues: { text: string; focus: 'external' | 'internal' }[];
  /** Which drawings stand on the clip; see `sheets.ts`. */
  marks: ('foot' | 'head-plumb' | 'hands' | 'barrel' | 'finish')[];
}

/** One lesson of the demo. Times are hours from the moment of the seed, negative for the past. */
export interface DemoLesson {
  key: string;
  player: string;
  sentBy: string;
  question: string;
  clips: { file: string; view: ClipView }[];
  pitchMode: PitchMode;
  pitchZone: number | null;
  result: SwingResult | null;
  pain: [number, string?];
  follows: string | null;
  startedAt: number;
  submittedAt: number | null;
  /** When it is promised by; otherwise 24 hours after it was sent. */
  promisedAt?: number;
  taken?: { by: string; at: number };
  returnedAt?: number;
  closedAt?: number;
  withdrawnAt?: number;
  reopened?: { at: number; reason: string };
  review?: DemoReview;
  money: { kind: LedgerKind; amountMinor: number; reason: string; at: number; by: string }[];
  replies: {
    by: string;
    body: string;
    at: number;
    checkpoint?: string;
    edited?: { before: string; at: number };
  }[];
  seenBy: { key: string; at: number }[];
}

/** Price of a single lesson in cents. */
export const PRICE = 3500;
