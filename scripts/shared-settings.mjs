// The settings that all processes on one database have to share. The database keeps keyed digests of them, from which
// nobody can read a setting.
import { createHmac } from 'node:crypto';
import { Trouble } from './steps.mjs';

// What was signed, shown or kept under one of these by one process is read under it by another.
const SHARED = [
  ...['NEXTAUTH_SECRET', 'NEXTAUTH_URL', 'UPLOADTHING_TOKEN', 'CAPTIONS_URL', 'CAGEPOST_DEMO'],
  ...['STRIPE_SECRET_KEY', 'STRIPE_WEBHOOK_SECRET', 'CLIP_MAX_BYTES', 'CLIP_MAX_SECONDS'],
];

/** A digest of each shared setting, by its name. One that is not set has one too. */
export const fingerprintOf = (env) =>
  Object.fromEntries(
    SHARED.map((name) => {
      const digest = createHmac('sha256', `shared settings ${env.NEXTAUTH_SECRET}`);
      return [
        name,
        digest
          .update(`${name}=${env[name] ?? ''}`)
          .digest('base64url')
          .slice(0, 22),
      ];
    }),
  );

/** The names that differ. Under another secret every digest is another one: then the secret is what differs. */
export const differences = (before, now) => {
  const names = SHARED.filter((name) => before[name] !== now[name]);
  return names.includes('NEXTAUTH_SECRET') ? ['NEXTAUTH_SECRET'] : names;
};

/**
 * Compares our settings with those that the database was first used with; different ones are taken over when nobody
 * else is there, and refused while somebody is.
 * @param {() => Promise<boolean>} isAlone
 */
export async function agreeOnSettings(client, env, isAlone) {
  const now = fingerprintOf(env);
  const { rows } = await client.query('SELECT fingerprint FROM "SharedSettings" WHERE id = 1');
  const names = rows[0] ? differences(rows[0].fingerprint, now) : ['all'];
  if (names.length === 0) return;
  if (rows[0] && !(await isAlone())) {
    const word = names.length === 1 ? 'is' : 'are';
    throw new Trouble(
      `${names.join(', ')} ${word} set to something else than at the processes that run on this database. Nothing was changed. Set the same everywhere; to change it, stop all of them first.`,
    );
  }
  await client.query(
    'INSERT INTO "SharedSettings" (id, fingerprint, at) VALUES (1, $1, now()) ON CONFLICT (id) DO UPDATE SET fingerprint = $1, at = now()',
    [now],
  );
}
