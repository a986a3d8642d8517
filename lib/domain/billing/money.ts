import type { Brand } from '../shared/brand';

/** An amount in the smallest unit of its currency, always whole (cents for USD, yen for JPY). */
export type Minor = Brand<number, 'Minor'>;

/** Checks that a number is a whole count of minor units. */
export function minor(amount: number): Minor {
  if (!Number.isSafeInteger(amount)) throw new RangeError(`${amount} is not a whole number of minor units`);
  return amount as Minor;
}

/** How many decimals the currency has: 2 for USD, 0 for JPY, 3 for KWD (ISO 4217, as the runtime's CLDR data has it). */
export const exponentOf = (currency: string): number =>
  new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;

/** The amount as people read it: "$35.00". */
export const formatMoney = (amountMinor: number, currency: string): string => {
  const exponent = exponentOf(currency);
  return new Intl.NumberFormat('en-US', { style: 'currency', currency }).format(amountMinor / 10 ** exponent);
};

/** Reads what a person typed ("35", "35.5", "1,200.00") as minor units, or null when it is not an amount of that currency. */
export function parseMoney(text: string, currency: string): Minor | null {
  const exponent = exponentOf(currency);
  // A comma may only stand between groups of three: "0,500" and "12,50" mean something else to whoever wrote them.
  const match = /^(\d{1,9}|[1-9]\d{0,2}(?:,\d{3}){1,2})(?:\.(\d*))?$/.exec(text.trim());
  if (!match) return null;
  const [, grouped = '0', fraction = ''] = match;
  const whole = grouped.replaceAll(',', '');
  if (fraction.length > exponent) return null;
  return minor(Number(whole) * 10 ** exponent + Number(fraction.padEnd(exponent, '0') || '0'));
}
