// Every command of package.json comes through here. Until the packages are installed only Node's own modules and the
// files of this folder may be imported, so the commands themselves are imported late.
import { parseArgs } from 'node:util';
import { alone, inRoot, prepare, runProgram, say, Trouble } from './steps.mjs';

const { positionals } = parseArgs({ allowPositionals: true, strict: false });
const [command, ...rest] = positionals;

const COMMANDS = {
  start: async () => (await import('./program.mjs')).runProgramUntilEnd('start'),
  dev: async () => (await import('./program.mjs')).runProgramUntilEnd('dev'),
  web: async () => (await import('./apart.mjs')).runApart('web'),
  worker: async () => (await import('./apart.mjs')).runApart('worker'),
  check: async () => (await import('./check.mjs')).check(),
  test: async () => (await import('./test.mjs')).testEverything(),
  mutation: async () => (await import('./check.mjs')).checkMutation(),
  bench: async () => (await import('./bench.mjs')).bench(rest[0]),
  measure: () =>
    runProgram(process.execPath, ['--import', 'tsx', inRoot('scripts/measure.ts'), ...rest], {
      isPlain: true,
    }),
  migration: async () => {
    await alone(prepare);
    return (await import('./migration.mjs')).makeMigration(rest[0]);
  },
};

const [major, minor] = process.versions.node.split('.').map(Number);
try {
  if (major < 20 || (major === 20 && minor < 19))
    throw new Trouble(`Cagepost needs Node 20.19 or later; this is ${process.version}.`);
  const run = COMMANDS[command];
  if (!run)
    throw new Trouble(`There is no command "${command}". There are: ${Object.keys(COMMANDS).join(', ')}.`);
  process.exitCode = await run();
} catch (error) {
  if (error instanceof Trouble) say(error.message);
  else console.error(error);
  process.exitCode = 1;
}
// A handle that somebody left open must not keep a finished command from ending.
setTimeout(() => process.exit(), 2000).unref();
