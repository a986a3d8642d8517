import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { vi } from 'vitest';

const root = path.resolve(import.meta.dirname, '../../..');

export const freePort = () =>
  new Promise<number>((resolve) => {
    const server = createServer();
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => resolve(port));
    });
  });

/** A data folder and a port to start the program with, as often as a test likes. */
export interface Home {
  dataDir: string;
  port: number;
  address: string;
  remove(): void;
}

export const newHome = async (): Promise<Home> => {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'cagepost-start-'));
  const port = await freePort();
  const remove = () => rmSync(dataDir, { recursive: true, force: true });
  return { dataDir, port, address: `http://127.0.0.1:${port}`, remove };
};

/** One run of `scripts/run.mjs`, what it says and how it ends. */
export interface Run {
  child: ChildProcess;
  output(): string;
  /** Waits for the line; fails as soon as the run has ended without it. */
  says(words: string | RegExp): Promise<void>;
  ended: Promise<{ code: number | null; signal: NodeJS.Signals | null }>;
}

// Nothing of the test runner's own environment, as from a fresh terminal.
const bare = { NODE_ENV: 'production' as const, PATH: process.env.PATH, HOME: process.env.HOME };

const runs = new Set<ChildProcess>();

export const run = (home: Home, env: Record<string, string> = {}): Run =>
  follow(process.execPath, [path.join(root, 'scripts/run.mjs'), 'start'], home, env);

/** One half of it, as `npm run web` and `npm run worker` start it. */
export const runPart = (part: 'web' | 'worker', home: Home, env: Record<string, string> = {}): Run =>
  follow(process.execPath, [path.join(root, 'scripts/run.mjs'), part], home, env);

/** The same with reloading, for developers. */
export const runDev = (home: Home): Run =>
  follow(process.execPath, [path.join(root, 'scripts/run.mjs'), 'dev'], home, { NODE_ENV: 'development' });

/** The same as people do it; the process is then npm's, which has a shell and ours below it. */
export const runByNpm = (home: Home): Run => follow('npm', ['start'], home, {});

const follow = (program: string, args: string[], home: Home, env: Record<string, string>): Run => {
  const settings = {
    DATA_DIR: home.dataDir,
    PORT: String(home.port),
    CAGEPOST_DEMO: '0',
    LOG_LEVEL: 'info',
    DATABASE_URL: '',
  };
  const child = spawn(program, args, {
    cwd: root,
    env: { ...bare, ...settings, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  runs.add(child);
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (said += String(chunk)));
  const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((resolve) => {
    child.once('close', (code, signal) => {
      runs.delete(child);
      resolve({ code, signal });
    });
  });
  const says = (words: string | RegExp) =>
    vi.waitUntil(
      () => {
        const isSaid = typeof words === 'string' ? said.includes(words) : words.test(said);
        if (!isSaid && child.exitCode !== null) throw new Error(`It ended without saying ${words}:\n${said}`);
        return isSaid;
      },
      { timeout: 200_000, interval: 50 },
    );
  return { child, output: () => said, ended, says: async (words) => void (await says(words)) };
};

/** For after a test: nothing that it started stays. */
export const endAllRuns = async (home: Home): Promise<void> => {
  for (const child of runs) child.kill('SIGTERM');
  await vi.waitUntil(() => runs.size === 0, { timeout: 60_000 });
  const database = databaseOf(home);
  if (database && isAlive(database)) process.kill(database, 'SIGINT');
  await vi.waitUntil(() => !database || !isAlive(database), { timeout: 60_000 });
};

export const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return !/\) Z /.test(readFileSync(`/proc/${pid}/stat`, 'utf8'));
  } catch {
    return false;
  }
};

/** The process number of the database server of this home; null without one. */
export const databaseOf = (home: Home): number | null => {
  const file = path.join(home.dataDir, 'pg/postmaster.pid');
  return existsSync(file) ? Number(readFileSync(file, 'utf8').split('\n')[0]) : null;
};

/** Every process below this one. Linux only, as the tests that use it. */
export const familyOf = (pid: number): number[] => {
  const children = (of: number): number[] => {
    try {
      return readFileSync(`/proc/${of}/task/${of}/children`, 'utf8').split(' ').filter(Boolean).map(Number);
    } catch {
      return [];
    }
  };
  return children(pid).flatMap((child) => [child, ...familyOf(child)]);
};

export const health = async (home: Home): Promise<{ status: number; body: Record<string, string> }> => {
  const response = await fetch(`${home.address}/api/health`);
  return { status: response.status, body: (await response.json()) as Record<string, string> };
};
