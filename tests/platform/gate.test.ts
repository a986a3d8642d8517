import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

// The gate is only worth its rules: a small tree of the real shape, first clean, then with one breach after the other.

const root = path.resolve(import.meta.dirname, '../..');

const CLEAN: Record<string, string> = {
  'lib/domain/lesson.ts': "import * as z from 'zod';\nexport const lesson = z.object({});\n",
  'lib/review/player.ts': "import { lesson } from '@/lib/domain/lesson';\nexport const player = lesson;\n",
  'lib/data/client.ts': "import { PrismaPg } from '@prisma/adapter-pg';\nexport const client = PrismaPg;\n",
  'lib/data/lessons.read.ts': "import { client } from './client';\nexport const readLesson = client;\n",
  'lib/data/lessons.write.ts': "import { client } from './client';\nexport const writeLesson = client;\n",
  'lib/data/rate-limit.ts': "import { client } from './client';\nexport const spend = client;\n",
  'lib/workflows/ports.ts': 'export interface Clock {\n  now(): Date;\n}\n',
  'lib/workflows/send.ts':
    "import { writeLesson } from '@/lib/data/lessons.write';\nexport const send = writeLesson;\n",
  'lib/platform/clock.ts':
    "import type { Clock } from '@/lib/workflows/ports';\nexport const clock: Clock = { now: () => new Date() };\n",
  'lib/auth/viewer.ts': "import { lesson } from '@/lib/domain/lesson';\nexport const viewer = lesson;\n",
  'lib/worker/main.ts': "import { send } from '@/lib/workflows/send';\nexport const main = send;\n",
  'app/_server/limit.ts': "import { spend } from '@/lib/data/rate-limit';\nexport const limit = spend;\n",
  'app/page.tsx': "import { readLesson } from '@/lib/data/lessons.read';\nexport default readLesson;\n",
  'app/_ui/button.tsx':
    "import type { writeLesson } from '@/lib/data/lessons.write';\nexport type Button = typeof writeLesson;\n",
};

const BREACHES: readonly (readonly [rule: string, file: string, text: string])[] = [
  ['no-cycles', 'lib/domain/one.ts', "import { two } from './two';\nexport const one = () => two;\n"],
  [
    'domain-is-pure',
    'lib/domain/with-react.ts',
    "import { useState } from 'react';\nexport const a = useState;\n",
  ],
  [
    'domain-is-pure',
    'lib/domain/with-node.ts',
    "import { readFileSync } from 'node:fs';\nexport const a = readFileSync;\n",
  ],
  [
    'domain-is-pure',
    'lib/domain/with-type.ts',
    "import type { PrismaPg } from '@prisma/adapter-pg';\nexport type A = PrismaPg;\n",
  ],
  [
    'review-is-framework-free',
    'lib/review/late.ts',
    "export const a = () => import('@/lib/data/lessons.read');\n",
  ],
  [
    'review-takes-only-the-client-of-uploads',
    'lib/review/up.ts',
    "import { UTApi } from 'uploadthing/server';\nexport const a = UTApi;\n",
  ],
  [
    'pure-never-reaches-a-framework',
    'lib/review/far.ts',
    "import { a } from '@/lib/domain/with-react';\nexport const b = a;\n",
  ],
  [
    'prisma-only-in-data',
    'app/client/page.tsx',
    "import { client } from '@/lib/data/client';\nexport default client;\n",
  ],
  [
    'prisma-only-in-data',
    'lib/auth/query.ts',
    "import { client } from '@/lib/data/client';\nexport const a = client;\n",
  ],
  [
    'prisma-only-in-data',
    'lib/workflows/query.ts',
    "import { PrismaPg } from '@prisma/adapter-pg';\nexport const a = PrismaPg;\n",
  ],
  [
    'app-reads-only-dot-read',
    'app/write/page.tsx',
    "import { writeLesson } from '@/lib/data/lessons.write';\nexport default writeLesson;\n",
  ],
  [
    'app-starts-no-worker',
    'app/work/page.tsx',
    "import { main } from '@/lib/worker/main';\nexport default main;\n",
  ],
  [
    'data-knows-only-domain',
    'lib/data/tick.ts',
    "import { clock } from '@/lib/platform/clock';\nexport const a = clock;\n",
  ],
  [
    'platform-and-documents-know-only-domain',
    'lib/platform/row.ts',
    "import { readLesson } from '@/lib/data/lessons.read';\nexport const a = readLesson;\n",
  ],
  [
    'ports-cross-as-types',
    'lib/platform/verb.ts',
    "import { send } from '@/lib/workflows/send';\nexport const a = send;\n",
  ],
  [
    'workflows-take-ports',
    'lib/workflows/tick.ts',
    "import { clock } from '@/lib/platform/clock';\nexport const a = clock;\n",
  ],
  [
    'auth-below-workflows',
    'lib/auth/play.ts',
    "import { player } from '@/lib/review/player';\nexport const a = player;\n",
  ],
  [
    'lib-never-imports-app',
    'lib/workflows/up.ts',
    "import { limit } from '@/app/_server/limit';\nexport const a = limit;\n",
  ],
  [
    'browser-files-stay-in-the-browser',
    'app/_ui/send.tsx',
    "import { send } from '@/lib/workflows/send';\nexport const a = send;\n",
  ],
  [
    'browser-files-stay-in-the-browser',
    'app/lessons/_review/bench.tsx',
    "import { limit } from '@/app/_server/limit';\nexport const a = limit;\n",
  ],
  [
    'no-tests-in-the-product',
    'lib/data/build.ts',
    "import { built } from '@/tests/build';\nexport const a = built;\n",
  ],
  ['no-unresolvable', 'lib/domain/gone.ts', "import { gone } from './not-there';\nexport const a = gone;\n"],
  [
    'no-undeclared-package',
    'lib/platform/undeclared.ts',
    "import semver from 'semver';\nexport const a = semver;\n",
  ],
];
const ALONG: Record<string, string> = {
  'lib/domain/two.ts': "import { one } from './one';\nexport const two = () => one;\n",
  'tests/build.ts': 'export const built = 1;\n',
};

interface Cruised {
  summary: { violations: { from: string; rule: { name: string } }[]; totalCruised: number };
}

let folder = '';
const write = async (files: Record<string, string>) => {
  for (const [name, text] of Object.entries(files)) {
    await mkdir(path.dirname(path.join(folder, name)), { recursive: true });
    await writeFile(path.join(folder, name), text);
  }
};

const cruise = () =>
  new Promise<Cruised['summary']>((resolve, reject) => {
    const program = path.join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
    const config = path.join(root, '.dependency-cruiser.cjs');
    const args = [program, 'app', 'lib', '--config', config, '--output-type', 'json'];
    execFile(process.execPath, args, { cwd: folder, maxBuffer: 64 * 2 ** 20 }, (error, stdout, stderr) => {
      if (!stdout.startsWith('{')) reject(new Error(stderr, { cause: error }));
      else resolve((JSON.parse(stdout) as Cruised).summary);
    });
  });

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'cagepost-gate-'));
  await symlink(path.join(root, 'node_modules'), path.join(folder, 'node_modules'));
  const paths = { '@/*': ['./*'] };
  const compilerOptions = { module: 'esnext', moduleResolution: 'bundler', jsx: 'react-jsx', paths };
  const dependencies = Object.fromEntries(
    ['zod', 'react', 'uploadthing', '@prisma/adapter-pg'].map((name) => [name, '*']),
  );
  await write({
    ...CLEAN,
    'tsconfig.json': JSON.stringify({ compilerOptions }),
    'package.json': JSON.stringify({ name: 'gate', type: 'module', dependencies }),
  });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('the gate between the folders', () => {
  test('lets the arrows pass', async () => {
    const { violations, totalCruised } = await cruise();
    expect(violations.map(({ from, rule }) => `${rule.name}: ${from}`)).toEqual([]);
    expect(totalCruised).toBeGreaterThan(Object.keys(CLEAN).length);
  });

  test('stops every breach, each by its own rule, and nothing else', async () => {
    await write({ ...ALONG, ...Object.fromEntries(BREACHES.map(([, file, text]) => [file, text])) });
    const { violations } = await cruise();
    const found = new Set(violations.map(({ from, rule }) => `${rule.name}: ${from}`));
    for (const [rule, file] of BREACHES) expect(found).toContain(`${rule}: ${file}`);
    const touched = new Set([...BREACHES.map(([, file]) => file), ...Object.keys(ALONG)]);
    expect(violations.filter(({ from }) => !touched.has(from))).toEqual([]);
  });

  test('has a breach for every rule', async () => {
    const { default: gate } = (await import(path.join(root, '.dependency-cruiser.cjs'))) as {
      default: { forbidden: { name: string }[] };
    };
    const tried = new Set(BREACHES.map(([rule]) => rule));
    expect(gate.forbidden.map((rule) => rule.name).filter((name) => !tried.has(name))).toEqual([]);
  });
});
