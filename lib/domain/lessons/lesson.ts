import type { Checklist } from '../checkpoints/checklist';
import type { ClipFault, ClipState, ClipView } from '../clips/clip';
import type { Account } from '../billing/ledger';
import type { MoneyPolicy } from '../billing/policy';
import type { WorkingHours } from '../desk/hours';
import type { ClipId, LessonId, PersonId, ProgramId, ThreadId } from '../shared/ids';
import type { Sheet } from '../review/sheet';
import type { LessonEventKind } from './fold';
import type { Hand, LessonState, PitchMode, SwingResult } from './state';

/** A clip as screens need it. Sizes and counts are null until it is ready. */
export interface ClipFacts {
  id: ClipId;
  position: number;
  view: ClipView | null;
  state: ClipState;
  progress: number; // of preparing, 0 to 100
  fault: ClipFault | null;
  width: number | null;
  height: number | null;
  frameCount: number | null;
  fileRate: number | null;
  captureRate: number | null;
  rateIsSure: boolean;
  /** The lens as the phone wrote it, in millimetres of a 35 mm camera; null: not in the file. */
  focal35mm: number | null;
  /** As the sender said; null: not answered. */
  isZoomed: boolean | null;
  sizeBytes: number;
}

export interface PersonRef {
  id: PersonId;
  name: string;
}

export interface ProgramFacts {
  id: ProgramId;
  name: string;
  timeZone: string;
  currency: string;
  promiseHours: number;
  /** When lessons are answered; null: round the clock. */
  hours: WorkingHours | null;
  howToPay: string;
  /** What is agreed about money from now on. */
  policy: MoneyPolicy;
}

/** What was given back, as it stood then. */
export interface ReturnedSheet {
  sheet: Sheet;
  number: number;
  at: Date;
  by: PersonRef;
}

export interface LessonEventFacts {
  kind: LessonEventKind;
  at: Date;
  actor: PersonRef | null;
  reason: string | null;
}

/** One lesson with all that its page, the bench and the follow-up need. Instants are UTC. */
export interface LessonDetail {
  id: LessonId;
  threadId: ThreadId;
  number: number; // 0 while it is a draft
  state: LessonState;
  program: ProgramFacts;
  player: PersonRef & { birthDate: string | null };
  coach: PersonRef | null;
  startedBy: PersonRef;
  follows: { id: LessonId; number: number; submittedAt: Date | null; fixFirst: string | null } | null;
  followUp: { id: LessonId; number: number; state: LessonState } | null;
  question: string;
  bats: Hand | null;
  pitchMode: PitchMode | null;
  pitchZone: number | null;
  result: SwingResult | null;
  painLevel: number | null;
  painWhere: string | null;
  price: { label: string; amountMinor: number; currency: string } | null;
  submittedAt: Date | null;
  promisedAt: Date | null;
  /** The last time it was made later: from when, and why; null when it never was. */
  moved: { from: Date; reason: string; at: Date } | null;
  clips: ClipFacts[];
  checklist: Checklist;
  returned: ReturnedSheet | null;
  account: Account;
  events: LessonEventFacts[];
  /** Who of the player's side opened it since it was returned, and when first. */
  seen: (PersonRef & { at: Date })[];
}
