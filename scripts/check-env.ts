import { EnvError, readEnv } from '@/lib/platform/env';

// The embedded database is not running yet at this point; its address needs no check.
const pending =
  process.env.CAGEPOST_EMBEDDED === '1' ? { DATABASE_URL: 'postgresql://127.0.0.1/pending' } : {};

try {
  readEnv({ ...process.env, ...pending });
} catch (error) {
  if (!(error instanceof EnvError)) throw error;
  for (const sentence of error.sentences) console.error(sentence);
  process.exitCode = 1;
}
