import type { MissingAnswer } from '@/lib/domain/lessons/intake';
import type { StepId } from './send-types';

/** The step on which each missing answer is given. */
export const MISSING_AT = {
  clip: 'clip',
  bats: 'this-swing',
  view: 'this-swing',
  'pitch-mode': 'this-swing',
  pain: 'this-swing',
  'pain-where': 'this-swing',
  question: 'question',
} as const satisfies Record<MissingAnswer, StepId>;
