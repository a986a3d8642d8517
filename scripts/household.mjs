// The server and the worker as children of one of our commands: started, followed, ended with it.
import { spawn } from 'node:child_process';
import { connect, createServer } from 'node:net';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { stripVTControlCharacters } from 'node:util';
import { END_WITH_PARENT, inRoot, root, say, TOOLS, Trouble } from './steps.mjs';

/** The children of a command, and how they end. */
export class Household {
  #children = new Map();
  #isEnding = false;

  /** Starts a Node program that ends with us, even if we are killed. */
  start(name, args, env, onExit) {
    const stdio = ['ignore', 'pipe', 'inherit', 'ipc'];
    const child = spawn(process.execPath, [...END_WITH_PARENT, ...args], {
      ...{ cwd: root, stdio },
      env: { ...env, CAGEPOST_PARENT: String(process.pid) },
    });
    this.#children.set(name, child);
    child.once('exit', (code, signal) => {
      this.#children.delete(name);
      if (!this.#isEnding) onExit(code ?? signal);
    });
    return child;
  }

  /** Tells all of them to end, and ends those that have not after so many milliseconds. */
  async end(patienceMs) {
    this.#isEnding = true;
    for (const child of this.#children.values()) child.kill('SIGTERM');
    const patience = Date.now() + patienceMs;
    while (this.#children.size > 0 && Date.now() < patience) await pause(50);
    for (const child of this.#children.values()) child.kill('SIGKILL');
    while (this.#children.size > 0) await pause(20);
  }

  get isEnding() {
    return this.#isEnding;
  }
}

const passOn = (child) => createInterface({ input: child.stdout }).on('line', (line) => console.log(line));

/** A worker that ends by itself is started again, after a growing pause. */
export function keepWorker(household, env, fails = 0) {
  const begun = Date.now();
  const args = ['--import', 'tsx', inRoot('lib/worker/main.ts')];
  const worker = household.start('worker', args, env, async (how) => {
    const count = Date.now() - begun > 60_000 ? 0 : fails + 1;
    say(`worker: ended unexpectedly (${how}), starting it again`);
    await pause(Math.min(30_000, 500 * 2 ** count));
    if (!household.isEnding) keepWorker(household, env, count);
  });
  passOn(worker);
}

const isPortFree = ({ host, port }) =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', (error) => resolve(error.code !== 'EADDRINUSE'));
    probe.listen(Number(port), host, () => probe.close(() => resolve(true)));
  });

/** Waits a moment for the port, which the server of a killed start may still hold. */
export async function assertPortFree(settings) {
  const asked = Date.now();
  while (!(await isPortFree(settings))) {
    if (Date.now() - asked > 12_000) {
      throw new Trouble(`Port ${settings.port} is used by another program. Set PORT to a free one.`);
    }
    await pause(200); // the server of a start that was killed is about to notice
  }
}

const isAnswering = ({ host, port }) =>
  new Promise((resolve) => {
    const shown = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
    const socket = connect(Number(port), shown);
    socket.once('connect', () => resolve(true)).once('error', () => resolve(false));
    socket.once('close', () => socket.destroy()).once('connect', () => socket.end());
  });

/** Starts the server in one of its ways and says where it is once it answers. */
export async function serve(mode, settings, env, household, { fail, isOver }) {
  const ways = {
    dev: [TOOLS.next, 'dev'],
    start: [TOOLS.next, 'start'],
    // Connections outlive the minute for which a proxy keeps its own, so that none is closed under a request.
    web: [
      '--import',
      new URL('./drain.mjs', import.meta.url).href,
      TOOLS.next,
      'start',
      '--keepAliveTimeout',
      '75000',
    ],
  };
  const args = [...ways[mode], '-H', settings.host, '-p', settings.port];
  const server = household.start('server', args, env, (how) =>
    fail(`The server ended unexpectedly (${how}).`),
  );
  const isBanner = (line) => mode !== 'dev' && /^\s*($|[▲✓○-])/u.test(stripVTControlCharacters(line)); // it names addresses of its own
  createInterface({ input: server.stdout }).on('line', (line) => isBanner(line) || console.log(line));
  // A server that dies before it answers ends the program: waiting on would keep the lock for ever.
  while (!isOver() && !(await isAnswering(settings))) await pause(50);
  if (!isOver()) console.log(`Cagepost is at ${settings.address} (Ctrl-C ends it)`);
}
