import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../../..');
const next = path.join(root, 'node_modules/next/dist/bin/next');
// The server ends with this process, also when it is killed.
const withParent = ['--import', path.join(root, 'scripts/end-with-parent.mjs')];

/** A port of this machine that is free now. */
const freePort = () =>
  new Promise<number>((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });

/**
 * Names the address that the program will be served at, and sets it for this process too: what is signed here has to
 * hold there. Call it before anything reads the settings.
 */
export async function chooseOrigin(): Promise<string> {
  const origin = `http://127.0.0.1:${await freePort()}`;
  process.env.NEXTAUTH_URL = origin;
  return origin;
}

/** Starts the built program at `origin`, with this process's settings; answers once it serves. */
export async function startServer(origin: string): Promise<{ said: string[]; stop: () => Promise<void> }> {
  const { port } = new URL(origin);
  const said: string[] = [];
  const child = spawn(process.execPath, [...withParent, next, 'start', '-H', '127.0.0.1', '-p', port], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    env: {
      ...process.env,
      TSX_TSCONFIG_PATH: path.join(root, 'tsconfig.json'),
      PORT: port,
      LOG_LEVEL: 'error',
      CAGEPOST_PARENT: String(process.pid),
    },
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const ready = new Promise<void>((resolve) => {
    for (const stream of [child.stdout, child.stderr]) {
      stream?.setEncoding('utf8').on('data', (text: string) => {
        said.push(text);
        if (text.includes('Ready in')) resolve();
      });
    }
  });
  await Promise.race([ready, ended]);
  if (child.exitCode !== null)
    throw new Error(`The program did not start:
${said.join('')}`);
  const stop = async () => {
    child.kill('SIGTERM');
    await ended;
  };
  return { said, stop };
}
