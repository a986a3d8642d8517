import { defineConfig, devices } from '@playwright/test';
import { CHROMIUM_FLAGS, findChromium } from './scripts/chromium.mjs';

const PORT = 3210;
const baseURL = `http://127.0.0.1:${PORT}`;
const dataDir = '.data/e2e';

// The built program as a newcomer gets it, with the demo, in a data folder of its own.
export default defineConfig({
  testDir: 'tests/e2e',
  outputDir: 'test-results',
  metadata: { dataDir },
  workers: 1,
  retries: 0,
  forbidOnly: Boolean(process.env.CI),
  timeout: 120_000,
  expect: { timeout: 15_000 },
  reporter: [['list']],
  use: {
    baseURL,
    locale: 'en-US',
    timezoneId: 'UTC',
    trace: 'retain-on-failure',
    launchOptions: { executablePath: findChromium(), args: [...CHROMIUM_FLAGS] },
  },
  projects: [
    {
      name: 'desktop',
      use: { ...devices['Desktop Chrome'], viewport: { width: 1440, height: 900 } },
      testIgnore: '**/*.phone.spec.ts',
    },
    {
      name: 'phone',
      use: { ...devices['Pixel 7'], viewport: { width: 390, height: 844 } },
      testMatch: '**/*.phone.spec.ts',
    },
  ],
  webServer: {
    command: 'node tests/support/start-for-browser.mjs',
    url: `${baseURL}/api/health`,
    env: { PORT: String(PORT), DATA_DIR: dataDir, CAGEPOST_DEMO: '1', LOG_LEVEL: 'warn' },
    reuseExistingServer: false,
    timeout: 600_000,
    stdout: 'pipe',
    stderr: 'pipe',
    gracefulShutdown: { signal: 'SIGTERM', timeout: 30_000 },
  },
});
