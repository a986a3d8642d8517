import { createHmac, hkdfSync, timingSafeEqual } from 'node:crypto';

const PREFIX = 'hmac-sha256=';

/** HMAC-SHA-256 in the form of the uploadthing protocol: `hmac-sha256=` and 64 hexadecimal digits. */
export const signText = (text: string, key: string): string =>
  PREFIX + createHmac('sha256', key).update(text).digest('hex');

/** Compares two secrets in a time that does not depend on where they differ. */
export const isSameSecret = (given: string, wanted: string): boolean => {
  const a = Buffer.from(given);
  const b = Buffer.from(wanted);
  return a.length === b.length && timingSafeEqual(a, b);
};

/** A key for one purpose out of the installation's secret (HKDF, RFC 5869): 64 hexadecimal digits. */
export const deriveKey = (secret: string, purpose: string): string =>
  Buffer.from(hkdfSync('sha256', secret, '', `cagepost/${purpose}`, 32)).toString('hex');
