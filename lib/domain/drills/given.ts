import type { PersonRef } from '../lessons/lesson';
import type { Hand } from '../lessons/state';
import type { Day } from '../people/age';
import type { LessonId } from '../shared/ids';
import type { Dose } from './dose';
import type { AssignmentId, Drill } from './drill';

/** One practice as it was reported. */
export interface CheckInFacts {
  id: string;
  day: Day;
  setsDone: number;
  repsDone: number;
  feel: number | null;
  note: string;
  painLevel: number;
  painWhere: string | null;
}

/** A drill as it was given to a player, with what came of it. */
export interface Given {
  id: AssignmentId;
  drill: Drill;
  dose: Dose;
  cue: string;
  /** The day by which a swing is asked for. */
  swingBy: Day | null;
  givenAt: Date;
  pausedAt: Date | null;
  /** `said-cleared`: the player's side says that a clinician cleared it; the coach has not opened practice yet. */
  pauseReason: 'pain' | 'said-cleared' | null;
  endedAt: Date | null;
  player: PersonRef & { bats: Hand | null };
  lesson: { id: LessonId; number: number };
  hasSwing: boolean;
  checkIns: readonly CheckInFacts[]; // newest first
}
