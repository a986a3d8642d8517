// The settings of a command, as its children get them, and their check.
import { hkdfSync } from 'node:crypto';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { digestOf, inRoot, mustRun, once, root } from './steps.mjs';

/** The settings, those of a `.env` file included; what is set outside wins over the file. */
export function readSettings() {
  if (existsSync(inRoot('.env'))) process.loadEnvFile(inRoot('.env'));
  const dataDir = path.resolve(root, process.env.DATA_DIR || '.data');
  const port = process.env.PORT || '3000';
  const host = process.env.HOST || '127.0.0.1';
  const shown = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
  const address = `http://${shown.includes(':') ? `[${shown}]` : shown}:${port}`;
  return { dataDir, port, host, address, isEmbedded: !process.env.DATABASE_URL };
}

// What one server hides in a page for an action must be readable by another one, and by nobody else.
const actionsKey = (secret) =>
  Buffer.from(hkdfSync('sha256', secret, '', 'cagepost server actions', 32)).toString('base64');

/** What every child is started with, `more` included. */
export function environmentOf({ dataDir, port, host }, more) {
  const env = {
    ...process.env,
    NEXT_TELEMETRY_DISABLED: '1',
    TSX_TSCONFIG_PATH: inRoot('tsconfig.json'),
    ...{ DATA_DIR: dataDir, PORT: port, HOST: host, TZ: 'UTC' },
    ...more,
  };
  return { ...env, NEXT_SERVER_ACTIONS_ENCRYPTION_KEY: actionsKey(env.NEXTAUTH_SECRET ?? '') };
}

const SETTINGS =
  /^(DATABASE|NEXTAUTH|SMTP|MAIL|UPLOADTHING|CAPTIONS|STRIPE|CAGEPOST|CLIP|LOG)_|^(PORT|HOST|DATA_DIR|SHARED_DATA_DIR|DRAIN_MS)$/;

const check = (env) =>
  mustRun('Checking the settings', process.execPath, ['--import', 'tsx', inRoot('scripts/check-env.ts')], {
    env,
  });

/** The rules of the settings are TypeScript, and starting that takes a second: not again for the same settings. */
export const checkSettings = (dataDir, env) =>
  once({
    name: 'settings',
    doing: 'checking',
    stamp: path.join(dataDir, 'settings-checked'),
    digest: digestOf(
      ['lib/platform/env.ts', 'package-lock.json'],
      Object.entries(env).filter(([name]) => SETTINGS.test(name)),
    ),
    isThere: () => true,
    work: () => check(env),
  });

/** The same each time, for processes of which several may share the folder of the stamp. */
export const checkSettingsNow = check;
