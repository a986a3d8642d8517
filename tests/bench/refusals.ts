import { existsSync } from 'node:fs';
import path from 'node:path';
import { Client } from 'pg';
import { prisma } from '@/lib/data/client';
import { listActions } from '../support/action-client';
import { checkOperation, type Run } from './refusals/check';
import { untestedExports } from './refusals/data-exports';
import { makeDigest } from './refusals/digest';
import { listOperations } from './refusals/operations';
import { OPERATION_ROWS } from './refusals/rows';
import { chooseOrigin, startServer } from './refusals/server';
import { makeStand } from './refusals/stand';
import { buildWorld, ROLES } from './refusals/world';

// The whole access matrix through HTTP against the built program: every page, route and server action, read from the
// code, for fifteen kinds of people and four players; how each call has to end stands in refusals/rows. What is refused
// must also change nothing: rows and files are compared. The last line is one JSON object:
// `operations`: HTTP operations and exports of lib/data; `untested`: those without a row and without a reason.
// `ONLY=text` goes through the operations whose name holds that text.

const say = (line: string) => console.error(line);
const need = (name: string): string => {
  const value = process.env[name];
  if (!value) throw new Error(`${name} is not set: start this with "npm run bench -- refusals".`);
  return value;
};

const root = path.resolve(import.meta.dirname, '../..');
const build = path.join(root, '.next');
if (!existsSync(path.join(build, 'BUILD_ID'))) throw new Error('Build the program first: npm start does it.');

const origin = await chooseOrigin();
const client = new Client({ connectionString: need('DATABASE_URL') });
await client.connect();
const world = await buildWorld(need('NEXTAUTH_SECRET'));
const server = await startServer(origin);
const faults: string[] = [];
let cells = 0;
const operations = listOperations();
const actions = listActions(build);
const data = untestedExports(operations);
const untested = [
  ...operations.filter(({ name }) => !OPERATION_ROWS[name]).map(({ name }) => name),
  ...[...actions.keys()]
    .map((name) => `action ${name}`)
    .filter((name) => !operations.some((one) => one.name === name)),
  ...data.untested,
];

try {
  const stand = makeStand(origin, world);
  // Touches what is only made at a first use, so that it does not count as changed by whoever comes first.
  await fetch(`${origin}/api/health`);
  const digest = await makeDigest(client, need('DATA_DIR'));
  const run: Run = { origin, world, stand, client, digest, actions };
  for (const operation of operations.filter(({ name }) => name.includes(process.env.ONLY ?? ''))) {
    const begun = Date.now();
    const before = faults.length;
    let count = 0;
    for (const row of OPERATION_ROWS[operation.name] ?? []) {
      const found = await checkOperation(run, operation, row);
      count += found.cells;
      faults.push(...found.faults);
    }
    cells += count;
    say(`  ${operation.name}: ${count} cells, ${Date.now() - begun} ms`);
    for (const line of faults.slice(before)) say(`    ${line}`);
  }
  for (const name of untested) say(`untested: ${name}`);
  for (const [name, why] of data.bySystem) say(`not by HTTP: ${name}: ${why}`);
  // Level 50: what the program itself calls an error.
  const errors = server.said
    .join('')
    .split('\n')
    .filter((line) => line.includes('"level":50'));
  for (const line of new Set(errors.map((text) => text.slice(0, 600)))) say(line);
} finally {
  await server.stop();
  await prisma.$disconnect();
  await client.end();
}

console.log(
  JSON.stringify({
    operations: operations.length + data.count,
    roles: ROLES.length,
    cells,
    untested: untested.length,
    failed: faults.length,
  }),
);
process.exitCode = untested.length + faults.length > 0 ? 1 : 0;
