import { CagepostError, type Fault } from '@/lib/domain/shared/errors';
import type { PoseFault } from './pose-protocol';

const BY_HAND = 'Set the points by hand; everything else works as before.';

const SENTENCE: Record<PoseFault | 'nobody', readonly [Fault, string]> = {
  'too-old': ['unsupported', `This browser is too old to suggest points. ${BY_HAND}`],
  'out-of-memory': [
    'unsupported',
    `There was not enough memory to suggest points. Close other tabs and try once more, or set the points by hand.`,
  ],
  'model-missing': [
    'unavailable',
    `What suggests points could not be loaded. Check the connection and try once more, or set the points by hand.`,
  ],
  broken: ['internal', `Suggesting points did not work on this device. ${BY_HAND}`],
  nobody: [
    'invalid',
    'Nobody was found in the box. Draw it closer round the hitter, feet and head inside, or set the points by hand.',
  ],
};

/** The refusal of a suggestion, in words for the coach; what was set by hand is untouched by all of them. */
export const poseRefusal = (fault: PoseFault | 'nobody', detail = ''): CagepostError => {
  const [kind, words] = SENTENCE[fault];
  return new CagepostError(kind, words, { fault, detail });
};
