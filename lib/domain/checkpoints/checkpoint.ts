export const CHECKPOINTS = ['stance', 'load', 'foot_strike', 'contact', 'finish'] as const;
export type Checkpoint = (typeof CHECKPOINTS)[number];

export const CHECKPOINT_NAME = {
  stance: 'Stance',
  load: 'Load',
  foot_strike: 'Foot strike',
  contact: 'Contact',
  finish: 'Finish',
} as const satisfies Record<Checkpoint, string>;

/**
 * Foot strike is a frame of a named kind, because toe touch and full plant are different instants
 * (toe and heel contact are logged apart: ECSS congress abstract CP-MH12).
 */
export const STRIKE_KINDS = ['toe', 'heel', 'full_plant'] as const;
export type StrikeKind = (typeof STRIKE_KINDS)[number];

export const VERDICTS = ['set', 'close', 'off', 'not_seen'] as const;
export type Verdict = (typeof VERDICTS)[number];
