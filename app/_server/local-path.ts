import type { Role } from '@/lib/domain/people/viewer';

const HERE = 'http://here.invalid';

/** The path to go on to after signing in, if it is one of this site; null for anything that would lead elsewhere. */
export function localPath(text: string | undefined): string | null {
  // A browser drops tabs and line ends and takes "\" for "/", so that "/\evil.example" would leave the site.
  if (!text?.startsWith('/') || text.length > 500 || /[\\\p{Cc}]/u.test(text) || !URL.canParse(text, HERE))
    return null;
  const url = new URL(text, HERE);
  return url.origin === HERE ? url.pathname + url.search : null;
}

/** Where somebody with these roles begins. */
export const homePath = (roles: readonly Role[]): string =>
  roles.includes('coach') || roles.includes('lead') ? '/desk' : '/lessons';
