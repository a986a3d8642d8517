import path from 'node:path';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { CHROMIUM_FLAGS, findChromium } from './scripts/chromium.mjs';
import { clipServer } from './tests/browser/player/clip-server.mjs';

process.env.TZ = 'UTC';

const root = import.meta.dirname;
const alias = {
  '@': root,
  // The package throws where it is imported outside a server bundle; here everything is one.
  'server-only': path.join(root, 'node_modules/server-only/empty.js'),
};
// Needs no database: these start at once.
const PURE = ['domain', 'review', 'documents', 'media', 'swing'].map(
  (folder) => `tests/${folder}/**/*.test.ts`,
);

export default defineConfig({
  resolve: { alias },
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    coverage: { include: ['lib/**/*.ts'], exclude: ['lib/data/generated/**'] },
    projects: [
      {
        extends: true,
        test: { name: 'pure', include: PURE, setupFiles: ['tests/support/fail-on-console.ts'] },
      },
      {
        extends: true,
        test: {
          name: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: [...PURE, 'tests/start/**', 'tests/e2e/**', 'tests/browser/**', 'tests/bench/**'],
          globalSetup: ['tests/support/server.ts'],
          setupFiles: ['tests/support/database.ts', 'tests/support/fail-on-console.ts'],
        },
      },
      {
        // Starts and kills the whole program: one at a time, after the others.
        extends: true,
        test: {
          name: 'start',
          include: ['tests/start/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 300_000,
          hookTimeout: 300_000,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        plugins: [clipServer()],
        // Found while a test runs, a package makes the page load anew under it.
        optimizeDeps: { include: ['ml-matrix'] },
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.browser.test.{ts,tsx}'],
          sequence: { groupOrder: 2 },
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({
              launchOptions: { executablePath: findChromium(), args: [...CHROMIUM_FLAGS] },
            }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
    ],
  },
});
