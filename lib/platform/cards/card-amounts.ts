import { exponentOf } from '@/lib/domain/billing/money';
import { CagepostError } from '@/lib/domain/shared/errors';

// How many decimals the payment service counts in, where that is not two: its documentation, "Supported currencies".
// ISK and UGX have none there either, yet are still sent with two.
const NO_DECIMALS = new Set([
  ...['BIF', 'CLP', 'DJF', 'GNF', 'JPY', 'KMF', 'KRW', 'MGA'],
  ...['PYG', 'RWF', 'VND', 'VUV', 'XAF', 'XOF', 'XPF'],
]);
const THREE_DECIMALS = new Set(['BHD', 'JOD', 'KWD', 'OMR', 'TND']);

const wireExponent = (currency: string) =>
  NO_DECIMALS.has(currency) ? 0 : THREE_DECIMALS.has(currency) ? 3 : 2;

/** Minor units as the payment service counts them. Refuses what it cannot take: the last of three decimals has to be 0. */
export function toWire(amountMinor: number, currency: string): number {
  const exponent = wireExponent(currency);
  const wire = amountMinor * 10 ** (exponent - exponentOf(currency));
  if (!Number.isSafeInteger(wire) || (exponent === 3 && wire % 10 !== 0)) {
    throw new CagepostError(
      'unsupported',
      'That amount cannot be paid by card in this currency. Nothing was taken; pay as the program says.',
      { amountMinor, currency },
    );
  }
  return wire;
}

/** The other way round; `currency` as the payment service writes it, in small letters. */
export function fromWire(wire: number, currency: string): { amountMinor: number; currency: string } {
  const code = currency.toUpperCase();
  return { amountMinor: Math.round(wire * 10 ** (exponentOf(code) - wireExponent(code))), currency: code };
}
