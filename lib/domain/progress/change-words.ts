import { compareMeasures, type Change, type Difference, type Occasion } from '../measures/change';
import type { MeasureName } from '../measures/names';
import { UNIT_OF } from '../measures/target';

const SUFFIX = { deg: '°', cm: ' cm', ms: ' ms' } as const;
const written = (value: number, unit: keyof typeof SUFFIX) =>
  `${String(Math.abs(Math.round(value)))}${SUFFIX[unit]}`;

/** What a measure did when its number rose and when it fell, after "Your" or a name. */
const DID: Record<MeasureName, { what: string; rose: string; fell: string }> = {
  'stride-foot-openness': { what: 'stride foot', rose: 'opened', fell: 'closed' },
  'stride-length': { what: 'stride', rose: 'grew', fell: 'got shorter' },
  'head-ahead-of-belt': {
    what: 'head at foot strike',
    rose: 'moved toward the pitcher',
    fell: 'moved back',
  },
  'front-knee-past-ankle': {
    what: 'front knee at foot strike',
    rose: 'moved toward the pitcher',
    fell: 'moved back',
  },
  'trunk-lean': {
    what: 'trunk at foot strike',
    rose: 'leaned more toward the pitcher',
    fell: 'leaned less toward the pitcher',
  },
  'shoulder-tilt': { what: 'front shoulder', rose: 'came up', fell: 'went down' },
  'front-knee-flexion': { what: 'front knee', rose: 'bent more', fell: 'straightened' },
  'hip-openness': { what: 'hips', rose: 'opened', fell: 'closed' },
  'shoulder-openness': { what: 'shoulders', rose: 'opened', fell: 'closed' },
  'load-to-foot-strike': {
    what: 'time from load to foot strike',
    rose: 'grew',
    fell: 'got shorter',
  },
  'foot-strike-to-contact': {
    what: 'time from foot strike to contact',
    rose: 'grew',
    fell: 'got shorter',
  },
};

const CONDITION_WORD: Record<Difference, string> = {
  view: 'filmed from another side',
  rate: 'filmed at another rate',
  task: 'hit in another way',
};

/** What is unlike between two lessons, in words: "filmed from another side, hit in another way". */
export const unlikeWords = (differences: readonly Difference[]): string =>
  differences.map((one) => CONDITION_WORD[one]).join(', ');

/** Value and half interval of a measure: "62° ± 4°". Empty without a number. */
export const numberWords = ({ measure }: Occasion): string => {
  if (measure.value === null || measure.interval === null) return '';
  const unit = UNIT_OF[measure.name];
  const sign = Math.round(measure.value) < 0 ? '−' : '';
  const half = Math.max(1, (measure.interval[1] - measure.interval[0]) / 2);
  const about = measure.status === 'estimate' ? 'about ' : '';
  return `${about}${sign}${written(measure.value, unit)} ± ${written(half, unit)}`;
};

/** "closed from 62° ± 4° to 47° ± 4°", without saying whether it is more than noise. */
export function movedWords(before: Occasion, after: Occasion, isMore: boolean): string {
  const did = DID[after.measure.name];
  const rose = (after.measure.value ?? 0) > (before.measure.value ?? 0);
  const verb = !isMore ? 'went' : rose ? did.rose : did.fell;
  return `${did.what} ${verb} from ${numberWords(before)} to ${numberWords(after)}`;
}

/** The change of a measure against its noise in one sentence; for two numbers that cannot be compared the reason. */
export function changeSentence(before: Occasion | null, after: Occasion | null): string {
  const missing = !before?.measure.interval || !after?.measure.interval;
  if (!before || !after || missing) return 'Not measured in both, so nothing can be said about a change.';
  const change: Change = compareMeasures(before, after);
  const unit = UNIT_OF[after.measure.name];
  switch (change.kind) {
    case 'change':
      return `Changed by ${written(change.difference, unit)}: more than the noise of ${written(change.noise, unit)}.`;
    case 'within-noise':
      return `Differs by ${written(change.difference, unit)}: within the noise of ${written(change.noise, unit)}, so no change can be claimed.`;
    case 'not-compared': {
      const words = unlikeWords(
        change.because.filter((one): one is Difference => one !== 'no-number' && one !== 'other-measure'),
      );
      return `Not compared: ${words}.`;
    }
  }
}
