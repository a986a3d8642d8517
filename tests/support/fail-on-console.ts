import { format } from 'node:util';
import { afterEach, beforeEach, vi } from 'vitest';

// A warning that nobody reads is a defect that nobody sees: a test that makes one fails. A test that expects it
// replaces the spy: `vi.spyOn(console, 'error').mockImplementation(() => {})`.

const said: string[] = [];

beforeEach(() => {
  said.length = 0;
  for (const level of ['error', 'warn'] as const) {
    vi.spyOn(console, level).mockImplementation((...words: unknown[]) => {
      said.push(`console.${level}: ${format(...words)}`);
    });
  }
});

afterEach(() => {
  vi.restoreAllMocks();
  if (said.length > 0) throw new Error(`The test wrote to the console:\n${said.join('\n')}`);
});
