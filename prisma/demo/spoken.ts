import type { Checkpoint } from '../../lib/domain/checkpoints/checkpoint';

/** A sentence of a demo breakdown, and what the coach does while it is said. */
export interface SpokenLine {
  say: string;
  checkpoint?: Checkpoint;
  itemId?: string;
  /** Draws the sheet's marks of that item, one after the other, from here on. */
  draws?: string;
  /** Looks closely at a part of the hitter at that checkpoint, or at the whole picture again. */
  looksAt?: 'frontToe' | 'hands' | 'whole';
  /** Runs the clip from one checkpoint to another, at a quarter of how fast it happened. */
  plays?: { from: Checkpoint; to: Checkpoint };
}

/** What the coach of the demo says about Caleb's second swing. Invented, as everything of the demo is. */
export const SPOKEN: readonly SpokenLine[] = [
  { say: 'Caleb, this is a real change from last time. Let me show you what I see.', checkpoint: 'stance' },
  {
    say: 'Your base is wide and your head is still. Keep it just like this.',
    checkpoint: 'stance',
    itemId: 'balanced-set-up',
  },
  {
    say: 'Your hands go back and they stay up now. Good.',
    checkpoint: 'load',
    itemId: 'hands-loaded',
    looksAt: 'hands',
    draws: 'hands-loaded',
  },
  {
    say: 'Here is your front foot, flat on the ground.',
    checkpoint: 'foot_strike',
    itemId: 'front-foot-closed',
    looksAt: 'frontToe',
  },
  {
    say: 'The toes are more closed than before, and you are halfway there.',
    draws: 'front-foot-closed',
  },
  {
    say: 'So there is one thing to practise. Show the pitcher the side of your shoe when you land.',
    looksAt: 'whole',
  },
  {
    say: 'Now watch the whole swing, slowly, and look at nothing but that foot.',
    plays: { from: 'load', to: 'finish' },
  },
  {
    say: 'The barrel leaves the line a little early. That gets better by itself when the foot stays closed.',
    checkpoint: 'contact',
    itemId: 'barrel-through',
  },
  { say: 'Ten easy swings a day are enough. If anything hurts, stop, and tell an adult you trust.' },
];
