// `npm test`: everything, and one line at the end that counts all of it together.
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { runChecks } from './check.mjs';
import { ensureChromium } from './chromium.mjs';
import { alone, build, inRoot, prepare, runProgram, say, TOOLS } from './steps.mjs';

const reports = inRoot('reports');

const readReport = (file) => (existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null);

// A runner that broke down before or beside its tests has failed even if no test of it did.
const counted = (passed, failed, code) => ({ passed, failed: failed === 0 && code !== 0 ? 1 : failed });

async function runVitest(env) {
  const report = path.join(reports, 'vitest.json');
  rmSync(report, { force: true });
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const code = await runProgram(process.execPath, [TOOLS.vitest, 'run', ...reporters], {
    env,
    isPlain: true,
  });
  const found = readReport(report);
  // A file that could not be loaded has no tests to count.
  const broken = (found?.testResults ?? []).filter(
    (file) => file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed'),
  );
  return counted(found?.numPassedTests ?? 0, (found?.numFailedTests ?? 0) + broken.length, code);
}

async function runPlaywright(env) {
  if (!existsSync(inRoot('tests/e2e'))) return { passed: 0, failed: 0 };
  const report = path.join(reports, 'playwright.json');
  rmSync(report, { force: true });
  const reported = { ...env, PLAYWRIGHT_JSON_OUTPUT_NAME: report };
  const args = [TOOLS.playwright, 'test', '--reporter=list,json'];
  const code = await runProgram(process.execPath, args, { env: reported, isPlain: true });
  const stats = readReport(report)?.stats;
  return counted(stats?.expected ?? 0, (stats?.unexpected ?? 0) + (stats?.flaky ?? 0), code);
}

async function buildOrFail() {
  try {
    await alone(build);
    return { passed: 1, failed: 0 };
  } catch (error) {
    say(error.message);
    return { passed: 0, failed: 1 };
  }
}

export async function testEverything() {
  await alone(prepare);
  mkdirSync(reports, { recursive: true });
  const env = { CHROMIUM_PATH: ensureChromium(say), TZ: 'UTC' };
  const parts = { checks: await runChecks(), build: await buildOrFail() };
  parts.vitest = await runVitest(env);
  parts['end to end'] = await runPlaywright(env);
  const total = { passed: 0, failed: 0 };
  for (const [name, { passed, failed }] of Object.entries(parts)) {
    say(`${name}: ${passed} passed, ${failed} failed`);
    total.passed += passed;
    total.failed += failed;
  }
  console.log(`${total.passed} passed, ${total.failed} failed`);
  return total.failed === 0 && total.passed > 0 ? 0 : 1;
}
