import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exponentOf, formatMoney, minor, parseMoney } from '@/lib/domain/billing/money';

// Decimals as ISO 4217 has them ("minor unit" of its table of codes); the values are from memory.
const EXPONENTS = [
  ['USD', 2],
  ['EUR', 2],
  ['GBP', 2],
  ['MXN', 2],
  ['JPY', 0],
  ['KRW', 0],
  ['KWD', 3],
  ['BHD', 3],
] as const;
const CURRENCIES = EXPONENTS.map(([currency]) => currency);

test.each(EXPONENTS)('%s has %i decimals', (currency, exponent) => {
  expect(exponentOf(currency)).toBe(exponent);
});

test.each([
  [3500, 'USD', '$35.00'],
  [120000, 'USD', '$1,200.00'],
  [5, 'USD', '$0.05'],
  [-1250, 'USD', '-$12.50'],
  [3500, 'JPY', '¥3,500'],
  [1250, 'KWD', 'KWD\u00a01.250'],
])('%i minor units of %s read %s', (amount, currency, words) => {
  expect(formatMoney(amount, currency)).toBe(words);
});

describe('what a person types', () => {
  test.each([
    ['35', 'USD', 3500],
    ['35.5', 'USD', 3550],
    ['35.', 'USD', 3500],
    [' 0.05 ', 'USD', 5],
    ['1,200.00', 'USD', 120000],
    ['1,234,567', 'USD', 123456700],
    ['1200', 'JPY', 1200],
    ['1.234', 'KWD', 1234],
    ['999999999.99', 'USD', 99999999999],
    ['0', 'USD', 0],
  ])('%j in %s is %i', (text, currency, amount) => {
    expect(parseMoney(text, currency)).toBe(amount);
  });

  test.each([
    ['35.505', 'USD'],
    ['35.5', 'JPY'],
    ['1.2345', 'KWD'],
    ['-5', 'USD'],
    ['+5', 'USD'],
    ['thirty', 'USD'],
    ['35 dollars', 'USD'],
    ['$35', 'USD'],
    ['', 'USD'],
    ['.', 'USD'],
    ['.50', 'USD'],
    ['35,50', 'USD'],
    ['1,23', 'USD'],
    ['1234,567', 'USD'],
    ['12,34,567', 'USD'],
    ['0,500', 'KWD'],
    ['1,,200', 'USD'],
    [',200', 'USD'],
    ['1e3', 'USD'],
    ['1.2.3', 'USD'],
    ['1234567890', 'USD'],
    ['NaN', 'USD'],
    ['٣٥', 'USD'],
  ])('%j in %s is no amount', (text, currency) => {
    expect(parseMoney(text, currency)).toBeNull();
  });

  test('an amount that was shown can be typed back', () => {
    fc.assert(
      fc.property(fc.constantFrom(...CURRENCIES), fc.nat(999_999_999), (currency, amount) => {
        const shown = formatMoney(amount, currency).replace(/[^\d.,]/g, '');
        expect(parseMoney(shown, currency)).toBe(amount);
      }),
    );
  });

  test('whatever is typed is a whole amount or none, and is never taken for a negative one', () => {
    const typed = fc.oneof(fc.string(), fc.stringMatching(/^[-\d.,]{0,14}$/));
    fc.assert(
      fc.property(fc.constantFrom(...CURRENCIES), typed, (currency, text) => {
        const amount = parseMoney(text, currency);
        if (amount !== null) expect(Number.isSafeInteger(amount) && amount >= 0).toBe(true);
      }),
    );
  });
});

test.each([0.5, NaN, Infinity, 2 ** 53])('%d is refused as minor units', (amount) => {
  expect(() => minor(amount)).toThrow(RangeError);
});
