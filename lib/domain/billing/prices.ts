import { MOST_MINOR } from './entry-refusals';
import type { PriceId } from '../shared/ids';

export type PriceKind = 'lesson' | 'pack';

/** A line of the price list in one of its versions. Amounts in minor units of the program's currency. */
export interface PriceLine {
  id: PriceId;
  seriesId: string;
  number: number;
  kind: PriceKind;
  label: string;
  lessons: number;
  validDays: number | null;
  amountMinor: number;
  currency: string;
  createdAt: Date;
  retiredAt: Date | null;
}

/** What a lead writes for one line. */
export type PriceDraft = Pick<PriceLine, 'kind' | 'label' | 'lessons' | 'validDays' | 'amountMinor'>;

export const MOST_PACK_LESSONS = 200;
export const MOST_VALID_DAYS = 3650;

const isWhole = (value: number | null, least: number, most: number) =>
  value !== null && Number.isInteger(value) && value >= least && value <= most;

/** What is wrong with a line, in one sentence for people, or null. */
export function priceFault({ kind, label, lessons, validDays, amountMinor }: PriceDraft): string | null {
  if (!label.trim()) return 'Give the price a name. Nothing was changed.';
  if (amountMinor < 0) return 'A price cannot be below zero. Nothing was changed.';
  if (!isWhole(amountMinor, 0, MOST_MINOR)) {
    return 'Write the price with at most the decimals of the currency. Nothing was changed.';
  }
  if (kind === 'lesson') return lessons === 1 ? null : 'A single lesson is one lesson. Nothing was changed.';
  if (amountMinor === 0) return 'A pack needs a price. Nothing was changed.';
  if (!isWhole(lessons, 2, MOST_PACK_LESSONS)) {
    return `A pack holds 2 to ${MOST_PACK_LESSONS} lessons. Nothing was changed.`;
  }
  if (!isWhole(validDays, 1, MOST_VALID_DAYS)) {
    return `A pack is valid for 1 to ${MOST_VALID_DAYS} days. Nothing was changed.`;
  }
  return null;
}

/** Whether two versions say the same, so that no new one is needed. */
export const isSamePrice = (a: PriceDraft, b: PriceDraft): boolean =>
  a.kind === b.kind &&
  a.label === b.label &&
  a.lessons === b.lessons &&
  a.validDays === b.validDays &&
  a.amountMinor === b.amountMinor;
