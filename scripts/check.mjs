// `npm run check`: what can be said of the sources without running them.
import { alone, prepare, runProgram, say, TOOLS } from './steps.mjs';

const GATE = ['app', 'pages', 'lib', 'proxy.ts', '--config', '.dependency-cruiser.cjs'];

const CHECKS = [
  { name: 'types', tool: TOOLS.tsc, args: ['--noEmit', '-p', '.'], before: [TOOLS.next, 'typegen'] },
  { name: 'lint', tool: TOOLS.eslint, args: ['.', '--max-warnings', '0'] },
  { name: 'format', tool: TOOLS.prettier, args: ['--check', '--log-level', 'warn', '.'] },
  { name: 'imports between folders', tool: TOOLS.depcruise, args: GATE },
  { name: 'dead code', tool: TOOLS.knip, args: [] },
];

/** Runs every check to its end, however the ones before went. */
export async function runChecks() {
  const outcome = { passed: 0, failed: 0 };
  for (const { name, tool, args, before } of CHECKS) {
    if (before) await runProgram(process.execPath, before);
    const isFine = (await runProgram(process.execPath, [tool, ...args])) === 0;
    outcome[isFine ? 'passed' : 'failed'] += 1;
    say(`${name}: ${isFine ? 'fine' : 'NOT fine'}`);
  }
  return outcome;
}

export async function check() {
  await alone(prepare);
  const { passed, failed } = await runChecks();
  console.log(`${passed} passed, ${failed} failed`);
  return failed === 0 ? 0 : 1;
}

/** Changes the rules of `lib/domain` one by one and looks whether a test notices. Takes long; not part of `npm test`. */
export async function checkMutation() {
  await alone(prepare);
  return runProgram(process.execPath, [TOOLS.stryker, 'run'], { isPlain: true });
}
