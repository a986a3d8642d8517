import type { Conflict } from '@/lib/domain/review/merge';
import type { Sheet } from '@/lib/domain/review/sheet';

/** How the sheet stands; shown in words beside the lesson's name. Instants are ISO, UTC. */
export type SaveState =
  /** The server has everything; `at` null when nothing was written since the page came. */
  | { readonly is: 'kept'; readonly at: string | null }
  | { readonly is: 'saving' }
  /** The server does not have everything. `inBrowser`: at least this browser does. */
  | {
      readonly is: 'unsaved';
      readonly why: 'writing' | 'offline' | 'failed';
      readonly sentence: string;
      readonly inBrowser: boolean;
    }
  /** Both changed the same things: a person must choose, and until then nothing is sent. */
  | {
      readonly is: 'conflict';
      readonly byName: string;
      readonly at: string;
      readonly conflicts: readonly Conflict[];
    }
  /** The server will not take it, now or later. The writing stays in this browser. */
  | { readonly is: 'refused'; readonly sentence: string; readonly inBrowser: boolean };

/** Somebody's changes that were joined with ours because they touched other things; shown until it is read. */
export interface Joined {
  readonly byName: string;
  readonly at: string;
  /** How many things they changed. */
  readonly count: number;
}

/** `with-mine`: theirs and mine together, mine where both changed; `theirs`: drop mine; `mine`: drop theirs. */
export type Choice = 'with-mine' | 'theirs' | 'mine';

export interface SaverSnapshot {
  /** The sheet as the bench shows it: every edit is in it at once. */
  readonly sheet: Sheet;
  readonly state: SaveState;
  readonly joined: Joined | null;
}
