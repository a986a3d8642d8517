import { env, isDemoDoorOpen } from '@/lib/platform/env';
import { log } from '@/lib/platform/log';
import type { AuthSettings } from './options';

/** The auth settings of this installation. Cookies are marked secure where people open the site by https. */
export const authSettings = (): AuthSettings => ({
  secret: env.NEXTAUTH_SECRET,
  isSecure: new URL(env.NEXTAUTH_URL).protocol === 'https:',
  isDemoDoorOpen: isDemoDoorOpen(),
  log,
});
