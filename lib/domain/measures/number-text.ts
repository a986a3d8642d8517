import type { Measure } from './measure';

const SUFFIX = { deg: '°', cm: ' cm', ms: ' ms' } as const satisfies Record<Measure['unit'], string>;

const whole = (value: number): string => {
  const rounded = Math.round(value);
  return (rounded === 0 ? 0 : rounded).toString().replace('-', '−');
};

/**
 * A measure as it is read: "58° ± 4°", "about 58° ± 9°" for an estimate, "not measured" for a refusal. Whole units: more
 * digits than the interval carries would say too much. An interval is never shown as less than 1.
 */
export const measureText = ({ status, value, unit, interval }: Measure): string => {
  if (value === null || interval === null) return 'not measured';
  const half = Math.max(1, (interval[1] - interval[0]) / 2);
  const text = `${whole(value)}${SUFFIX[unit]} ± ${whole(half)}${SUFFIX[unit]}`;
  return status === 'estimate' ? `about ${text}` : text;
};
