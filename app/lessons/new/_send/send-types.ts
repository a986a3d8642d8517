import type { AssignmentId } from '@/lib/domain/drills/drill';
import type { UsablePack } from '@/lib/data/packs.read';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import type { Hand } from '@/lib/domain/lessons/state';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';

/** A lesson that the new one may follow, with what was to be fixed first then. */
export interface Followed {
  id: LessonId;
  number: number;
  submittedAt: Date | null;
  fixFirst: string | null;
}

/** What the form is told about the player and the program before anything is written. */
export interface SendSetting {
  player: { id: PersonId; name: string; bats: Hand | null };
  /** Who is signed in: only this person's clips are carried on by this browser. */
  viewerId: PersonId;
  /** The given drill that asks for this swing. */
  answersId?: AssignmentId | null;
  /** True when the one who sends is not the player: a guardian reads "Wren bats", a player "You bat". */
  isForOther: boolean;
  program: ProgramFacts;
  price: { label: string; amountMinor: number; currency: string } | null;
  /** Packs of the family that can pay for it, the one that ends first first. */
  packs: UsablePack[];
  checklist: Checklist;
  canFollow: Followed[];
}

/** What this browser knows of a clip and the program does not need: kept beside the draft, never sent. */
export interface ClipHere {
  /** As the phone names the file; shown to the sender only. */
  name: string;
  sizeBytes: number;
  seconds: number;
  /** Pictures a second as the file plays; null when it does not tell. */
  fileRate: number | null;
  /** The file cannot tell how fast the camera took it. */
  isRateOpen: boolean;
  /** The sender said that he does not know the rate, so that it is not asked again. */
  isRateUnknown: boolean;
  /** Long, and neither cut nor declared fine as it is: it waits and does not go up yet. */
  isHeld: boolean;
  /** Longer or larger than a clip may be: it can only be cut. */
  isTooLong: boolean;
}

/** Where a clip is on its way, as the screen shows it. */
export type Going =
  | { kind: 'held' }
  | { kind: 'waiting' }
  | {
      kind: 'sending';
      sentBytes: number;
      totalBytes: number;
      secondsLeft: number | null;
      note: string | null;
    }
  | { kind: 'paused'; sentBytes: number; totalBytes: number }
  | { kind: 'offline'; sentBytes: number; totalBytes: number }
  | { kind: 'failed'; reason: string; canRetry: boolean; needsFile: boolean }
  | { kind: 'elsewhere' } // listed in the draft, but its file is on another device
  | { kind: 'stored' };

export const STEPS = [
  { id: 'clip', word: 'Clip' },
  { id: 'this-swing', word: 'This swing' },
  { id: 'question', word: 'Question' },
  { id: 'send', word: 'Send' },
] as const;
export type StepId = (typeof STEPS)[number]['id'];
