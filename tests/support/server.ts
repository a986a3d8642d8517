import type { TestProject } from 'vitest/node';
import { joinTestServer } from '../../scripts/test-database.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    postgres: { url: string; template: string };
  }
}

/** Once a run: the PostgreSQL server that the test files get their databases from (see ./database). */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { url, template, leave } = await joinTestServer();
  project.provide('postgres', { url, template });
  return leave;
}
