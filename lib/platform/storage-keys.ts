import { CagepostError } from '@/lib/domain/shared/errors';

// The first character keeps out dot files and "..", so that a key can never leave its folder.
const SEGMENT = /^[A-Za-z0-9][A-Za-z0-9._-]{0,99}$/;

const refused = (key: string) =>
  new CagepostError('invalid', 'That is not a name under which files are kept.', { key: key.slice(0, 200) });

/** Answers the key when it is well formed (`clips/<clipId>/review.mp4`), else throws `invalid`. */
export const checkedKey = (key: string): string => {
  const segments = key.split('/');
  if (segments.length < 2 || segments.length > 6 || !segments.every((segment) => SEGMENT.test(segment)))
    throw refused(key);
  return key;
};

/** Answers the prefix without a closing slash (`clips/<clipId>`); the empty prefix, where allowed, means everything. */
export const checkedPrefix = (prefix: string, options: { isEmptyAllowed: boolean }): string => {
  const plain = prefix.replace(/\/$/, '');
  if (plain === '' && options.isEmptyAllowed) return plain;
  if (!plain.split('/').every((segment) => SEGMENT.test(segment))) throw refused(prefix);
  return plain;
};

/** True when the key is the prefix itself or lies below it. Prefixes are whole folder names, never parts of one. */
export const isUnder = (key: string, prefix: string): boolean =>
  prefix === '' || key === prefix || key.startsWith(`${prefix}/`);
