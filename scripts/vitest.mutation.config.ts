import path from 'node:path';
import { defineConfig } from 'vitest/config';

// For `npm run check:mutation`: only the rules and their tests, without a database or a browser.
const root = path.resolve(import.meta.dirname, '..');

export default defineConfig({
  root,
  resolve: { alias: { '@': root } },
  test: { include: ['tests/domain/**/*.test.ts'], testTimeout: 30_000 },
});
