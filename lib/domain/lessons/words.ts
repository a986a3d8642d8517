import type { BillingStatus } from '../billing/ledger';
import type { Verdict } from '../checkpoints/checkpoint';
import type { ClipView } from '../clips/clip';
import type { Hand, LessonState, PitchMode, SwingResult } from './state';

// The words in which people read the closed sets of the domain: one place, so that screens and mails say the same.

export const STATE_WORD = {
  draft: 'Draft',
  submitted: 'Submitted',
  in_review: 'In review',
  returned: 'Returned',
  closed: 'Closed',
  withdrawn: 'Withdrawn',
} as const satisfies Record<LessonState, string>;

export const VERDICT_WORD = {
  set: 'set',
  close: 'close',
  off: 'off',
  not_seen: 'not seen',
} as const satisfies Record<Verdict, string>;

/** What stands beside the dot of an item that has no answer yet. */
export const TO_JUDGE = 'to judge';

export const VIEW_WORD = {
  open_side: 'Open side',
  behind: 'Behind',
  front: 'Front',
  back: 'Back',
} as const satisfies Record<ClipView, string>;

export const PITCH_MODE_WORD = {
  tee: 'tee',
  toss: 'toss',
  machine: 'machine',
  live: 'live',
} as const satisfies Record<PitchMode, string>;

export const RESULT_WORD = {
  line_drive: 'line drive',
  grounder: 'grounder',
  fly: 'fly or pop-up',
  missed: 'missed it',
} as const satisfies Record<SwingResult, string>;

export const HAND_WORD = { right: 'right', left: 'left' } as const satisfies Record<Hand, string>;

/** Where a lesson's money stands, as a fold of its ledger tells. */
export const BILLING_WORD = {
  no_charge: 'no charge',
  due: 'due',
  part_paid: 'part paid',
  paid: 'paid',
  from_pack: 'from a pack',
  waived: 'waived',
  refunded: 'refunded',
} as const satisfies Record<BillingStatus, string>;

const HEIGHTS = ['High', 'Middle height', 'Low'] as const;

/**
 * The two words for a cell of the plate grid: `zone` 0 to 8, row by row from the top left as the catcher sees it.
 * A right-handed hitter stands on the catcher's left, so inside is left for a righty and right for a lefty; with
 * the hand unknown the side is named as the catcher sees it. Null for a zone that is not on the grid.
 */
export const zoneWords = (zone: number, bats: Hand | null): { height: string; side: string } | null => {
  const height = HEIGHTS[Math.floor(zone / 3)];
  if (!Number.isInteger(zone) || !height) return null;
  const column = zone % 3;
  if (column === 1) return { height, side: 'middle' };
  if (!bats) return { height, side: column === 0 ? 'catcher’s left' : 'catcher’s right' };
  return { height, side: (column === 0) === (bats === 'right') ? 'inside' : 'outside' };
};
