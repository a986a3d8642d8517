import type { ClipFacts } from '../lessons/lesson';

/** Who is in the clip of a drill. There is no word for a child: every player who gets the drill sees it. */
export const CLIP_SHOWS = ['nobody', 'sender', 'adult'] as const;
export type ClipShows = (typeof CLIP_SHOWS)[number];

/** What a sender chooses from. */
export const SHOWS_CHOICE: Readonly<Record<ClipShows, string>> = {
  nobody: 'Nobody, the set-up alone',
  sender: 'Me, and nobody else',
  adult: 'An adult who said yes to it',
};

/** What is read beside the clip afterwards. */
export const SHOWS_WORD: Readonly<Record<ClipShows, string>> = {
  nobody: 'Nobody is in it',
  sender: 'Its sender is in it',
  adult: 'An adult who agreed is in it',
};

/** Said before a clip is picked. */
export const WHO_MAY_BE_SHOWN =
  'Every player who gets this drill sees the clip, so no player under 18 may be in it, and no adult who did not say yes. Its sound is left out.';

/** A clip of the library: what every clip has, and who is in it. */
export interface DrillClip extends ClipFacts {
  shows: ClipShows;
}
