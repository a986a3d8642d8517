import type { MeasureName } from '../measures/names';
import { UNIT_OF } from '../measures/target';
import { movedWords, unlikeWords } from './change-words';
import type { Series } from './series';

const COUNT = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];
const NOISE_UNIT = { deg: '°', cm: ' cm', ms: ' ms' } as const;

/** A count in words up to twelve. */
export const countWord = (count: number): string => COUNT[count] ?? String(count);

const more = ({ change }: Series): number =>
  change && change.kind !== 'not-compared' ? Math.abs(change.difference) / change.noise : 0;

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * One plain sentence about a player's progress. The measures of the present fix first are looked at before the others;
 * among them a change beyond noise before one within it, and the largest first. `whose`: "your", "Caleb’s".
 */
export function headline(
  series: readonly Series[],
  { whose, first }: { whose: string; first: readonly MeasureName[] },
): string {
  const compared = series.filter((one) => more(one) > 0 || one.change?.kind === 'within-noise');
  const rank = (one: Series) => [
    Number(first.includes(one.measure)),
    Number(one.change?.kind === 'change'),
    more(one),
  ];
  const [best] = [...compared].sort((a, b) => {
    const [x, y] = [rank(a), rank(b)];
    const at = x.findIndex((value, index) => value !== y[index]);
    return at < 0 ? 0 : (y[at] ?? 0) - (x[at] ?? 0);
  });
  if (best) return said(best, whose);
  const apart = series.find(({ newest, points }) =>
    points.some((point) => point.value !== null && point.index < (newest?.index ?? 0)),
  );
  if (apart?.newest)
    return `There is nothing to compare yet: the lessons that were measured differ (${unlikeWords(apart.newest.unlikeBefore)}).`;
  const isMeasured = series.some(({ newest }) => newest !== null);
  return isMeasured
    ? 'There is nothing to compare yet: one lesson has been measured. The next one filmed in the same way can be held against it.'
    : 'There is nothing to compare yet: nothing has been measured so far.';
}

function said({ measure, reference, compared, newest, change }: Series, whose: string): string {
  if (!reference?.occasion || !compared?.occasion || !change || change.kind === 'not-compared') return '';
  const lessons = countWord(compared.number - reference.number + 1);
  const isMore = change.kind === 'change';
  const moved = capital(
    `${whose} ${movedWords(reference.occasion, compared.occasion, isMore)} in ${lessons} lessons`,
  );
  const unit = NOISE_UNIT[UNIT_OF[measure]];
  const standing = isMore
    ? 'more than noise.'
    : `within the noise of ${Math.round(change.noise)}${unit}, so no change can be claimed.`;
  const apart =
    newest && newest !== compared
      ? ` Lesson ${newest.number} is not held against them: ${unlikeWords(newest.unlikeBefore)}.`
      : '';
  return `${moved}; ${standing}${apart}`;
}
