// What stands between a fresh clone and a running program, each step done once and skipped while nothing changed.
// Only Node's own modules may be imported here: this runs before anything is installed.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { linkLibraries } from './embedded-postgres.mjs';
import { takeLock } from './lock.mjs';

export const root = path.resolve(import.meta.dirname, '..');
export const inRoot = (...parts) => path.join(root, ...parts);

const begun = Date.now();
const seconds = (since) => `${((Date.now() - since) / 1000).toFixed(1)} s`;

/** One line of progress, on the standard error: the standard output belongs to what is being run. */
export const say = (line) => process.stderr.write(`[${seconds(begun).padStart(7)}] ${line}\n`);

/** Something that a person has to mend: told in its own words, without a stack. */
export class Trouble extends Error {
  name = 'Trouble';
}

const quiet = {
  NEXT_TELEMETRY_DISABLED: '1',
  CHECKPOINT_DISABLE: '1',
  PRISMA_HIDE_UPDATE_MESSAGE: '1',
  npm_config_update_notifier: 'false',
};

const running = new Set();
let isAborted = false;

/** Ends whatever step is at work and lets none begin any more; for when the whole program is told to end. */
export function abortSteps() {
  isAborted = true;
  for (const child of running) child.kill('SIGTERM');
}

const assertGoingOn = () => {
  if (isAborted) throw new Trouble('Ended before it was done.');
};

/** Makes a Node program end when we are gone, so that a killed start leaves no build behind that the next one meets. */
export const END_WITH_PARENT = ['--import', new URL('./end-with-parent.mjs', import.meta.url).href];

const indent = (line) => process.stderr.write(`          ${line}\n`);

/**
 * Runs a program to its end, its lines indented under ours; `isQuiet` shows them only if it fails, `isPlain` gives it
 * our own output. Resolves to its exit code (a signal counts as 1).
 */
export const runProgram = (command, args, { env = {}, isPlain = false, isQuiet = false } = {}) =>
  new Promise((resolve, reject) => {
    assertGoingOn();
    const stdio = isPlain ? 'inherit' : ['ignore', 'pipe', 'pipe'];
    const options = { cwd: root, env: { ...process.env, ...quiet, ...env }, stdio };
    const child = spawn(command, args, {
      ...options,
      shell: process.platform === 'win32' && command === 'npm',
    });
    running.add(child);
    const held = [];
    for (const stream of [child.stdout, child.stderr]) {
      if (stream)
        createInterface({ input: stream }).on('line', (line) => (isQuiet ? held.push(line) : indent(line)));
    }
    child.once('error', reject);
    child.once('close', (code) => {
      running.delete(child);
      if (code !== 0) held.forEach(indent);
      resolve(code ?? 1);
    });
  });

/** The same, where anything but success is trouble. */
export async function mustRun(what, command, args, options) {
  const code = await runProgram(command, args, options);
  if (code !== 0) throw new Trouble(`${what} did not work (exit code ${code}); the lines above say why.`);
}

const script = (file) => inRoot('node_modules', file);
/** How the tools of node_modules are started: by this Node, not through a shell. */
export const TOOLS = {
  prisma: script('prisma/build/index.js'),
  next: script('next/dist/bin/next'),
  tsc: script('typescript/bin/tsc'),
  eslint: script('eslint/bin/eslint.js'),
  prettier: script('prettier/bin/prettier.cjs'),
  depcruise: script('dependency-cruiser/bin/dependency-cruise.mjs'),
  knip: script('knip/bin/knip.js'),
  vitest: script('vitest/vitest.mjs'),
  playwright: script('@playwright/test/cli.js'),
  stryker: script('@stryker-mutator/core/bin/stryker.js'),
  tsx: script('tsx/dist/cli.mjs'),
};

/** A digest over the names and bytes of files and folders, and over `facts`; what is not there counts as such. */
export function digestOf(entries, facts = {}) {
  const digest = createHash('sha256').update(`${process.version} ${process.platform} ${process.arch}`);
  digest.update(JSON.stringify(facts));
  const add = (file) => {
    const facts = statSync(file, { throwIfNoEntry: false });
    if (facts?.isDirectory()) {
      for (const name of readdirSync(file).sort()) add(path.join(file, name));
    } else {
      digest.update(`\n${path.relative(root, file)}\n`);
      if (facts?.isFile()) digest.update(readFileSync(file));
    }
  };
  for (const entry of entries) add(inRoot(entry));
  return digest.digest('hex');
}

const readText = (file) => {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return '';
  }
};

/** Does the work unless its stamp says that it was done for these inputs. A killed step leaves no stamp. */
export async function once({ name, doing, stamp, digest, isThere, work }) {
  if (readText(stamp) === digest && isThere()) {
    say(`${name}: nothing changed`);
    return;
  }
  say(`${name}: ${doing}`);
  const since = Date.now();
  const patience = setInterval(() => say(`${name}: still at it (${seconds(since)})`), 15_000);
  rmSync(stamp, { force: true });
  try {
    await work();
  } finally {
    clearInterval(patience);
  }
  mkdirSync(path.dirname(stamp), { recursive: true });
  writeFileSync(stamp, digest);
  say(`${name}: done in ${seconds(since)}`);
}

// npm writes down what it installed. A folder that somebody filled with `npm install` needs no second install.
function isInstalled() {
  try {
    const wanted = JSON.parse(readText(inRoot('package-lock.json'))).packages;
    const found = JSON.parse(readText(inRoot('node_modules/.package-lock.json'))).packages;
    return Object.entries(wanted).every(([place, facts]) => {
      const isOptional = facts.optional || facts.devOptional || facts.peer;
      return (
        place === '' || facts.link || (found[place] ? found[place].version === facts.version : isOptional)
      );
    });
  } catch {
    return false;
  }
}

async function install() {
  if (!isInstalled()) {
    const npm = process.env.npm_execpath?.endsWith('.js')
      ? [process.execPath, process.env.npm_execpath]
      : ['npm'];
    // Install scripts of strangers are not run. The one that is needed is the next line.
    const args = [
      ...npm.slice(1),
      'ci',
      '--ignore-scripts',
      '--include=dev',
      '--no-audit',
      '--no-fund',
      '--loglevel=error',
    ];
    await mustRun('Installing the packages', npm[0], args);
  }
  linkLibraries();
}

/** The packages, the database client and the model that suggests points. */
export async function prepare() {
  mkdirSync(inRoot('.data'), { recursive: true });
  await once({
    name: 'packages',
    doing: 'installing (about a minute the first time)',
    stamp: inRoot('node_modules/.cache/cagepost/install'),
    digest: digestOf(['package-lock.json', '.npmrc']),
    isThere: isInstalled,
    work: install,
  });
  await once({
    name: 'database client',
    doing: 'generating',
    stamp: inRoot('node_modules/.cache/cagepost/generate'),
    digest: digestOf(['prisma/schema.prisma', 'prisma.config.ts', 'package-lock.json']),
    isThere: () => existsSync(inRoot('lib/data/generated/client.ts')),
    work: () =>
      mustRun('Generating the database client', process.execPath, [TOOLS.prisma, 'generate'], {
        isQuiet: true,
      }),
  });
  await once({
    name: 'pose model',
    doing: 'bundling',
    stamp: inRoot('node_modules/.cache/cagepost/pose-model'),
    digest: digestOf(['scripts/pose-model.mjs', 'lib/review/pose/worker.ts', 'package-lock.json']),
    isThere: () => existsSync(inRoot('public/pose/offer.json')),
    work: () => mustRun('Bundling the pose model', process.execPath, [inRoot('scripts/pose-model.mjs')]),
  });
}

// What the built program is made of. `scripts` and `tests` are not among it.
const SOURCES = [
  ...['app', 'pages', 'lib', 'public', 'proxy.ts', 'instrumentation.ts', 'next.config.mjs', 'tsconfig.json'],
  ...['package.json', 'package-lock.json', 'prisma/schema.prisma'],
];

// The addresses of server actions are made with the build's key. A fixed one gives them the same addresses on every
// machine, and in the next version too; what is secret is enciphered under another key while the program runs.
const ACTION_ADDRESSES = createHash('sha256').update('cagepost action addresses').digest('base64');

// A name for these sources: machines that build the same ones agree that it is the same program. In digits, because
// blockers of advertisements look for words.
const nameOf = (digest) => String(BigInt(`0x${digest.slice(0, 24)}`));

/** The pages and routes, as they are served. */
export const build = () => {
  const digest = digestOf(SOURCES, { ACTION_ADDRESSES });
  return once({
    name: 'pages',
    doing: 'building (about a minute the first time)',
    stamp: inRoot('.next/cagepost-build'),
    digest,
    isThere: () => existsSync(inRoot('.next/BUILD_ID')),
    work: () =>
      mustRun('Building the pages', process.execPath, [TOOLS.next, 'build'], {
        env: {
          CAGEPOST_BUILD_ID: nameOf(digest),
          NEXT_SERVER_ACTIONS_ENCRYPTION_KEY: ACTION_ADDRESSES,
        },
      }),
  });
};

/** Runs steps that write into the project's folder while no other process does so. */
export async function alone(work) {
  mkdirSync(inRoot('.data'), { recursive: true });
  let lock = takeLock(inRoot('.data/prepare.lock'));
  if (!lock.release) say(`another process (${lock.holder}) is preparing this folder: waiting for it`);
  while (!lock.release) {
    assertGoingOn();
    await pause(200);
    lock = takeLock(inRoot('.data/prepare.lock'));
  }
  try {
    return await work();
  } finally {
    lock.release();
  }
}
