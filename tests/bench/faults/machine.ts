import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createServer, type AddressInfo } from 'node:net';
import path from 'node:path';
import { Client } from 'pg';
import { startPostgres, type RunningPostgres } from '../../../scripts/embedded-postgres.mjs';
import { until } from './waiting';

/** What can be killed. */
export const VICTIMS = ['server', 'worker', 'database'] as const;
export type Victim = (typeof VICTIMS)[number];

const root = path.resolve(import.meta.dirname, '../../..');
const PATIENCE_MS = 60_000;
const withParent = ['--import', path.join(root, 'scripts/end-with-parent.mjs')];

/** A port of this machine that is free now. */
export const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as AddressInfo;
      probe.close(() => resolve(port));
    });
  });

const isThere = (pid: number) => {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
};

const isReachable = async (url: string) => {
  const client = new Client({ connectionString: url });
  client.on('error', () => {});
  try {
    await client.connect();
    await client.query('SELECT 1');
    return true;
  } finally {
    await client.end().catch(() => {});
  }
};

/** The database, the built server and the worker as three programs that can be killed and started again. */
export class Machine {
  private database: RunningPostgres | undefined;
  private readonly programs = new Map<'server' | 'worker', ChildProcess>();
  private isEnding = false;

  /** What the server and the worker wrote. */
  readonly said: string[] = [];

  constructor(
    private readonly settings: {
      /** Holds the cluster. */
      home: string;
      databasePort: number;
      /** Where the server is. */
      origin: string;
      env: NodeJS.ProcessEnv;
    },
  ) {
    // The database is in a process group of its own and would outlive a benchmark that falls.
    process.once('exit', () => {
      const pid = this.database?.pid;
      if (pid && isThere(pid)) process.kill(pid, 'SIGKILL');
    });
  }

  /** Starts the database, or brings it up again on the same port; resolves once it answers. */
  async startDatabase(): Promise<string> {
    const { home, databasePort: port } = this.settings;
    this.database = await startPostgres(home, { port });
    const url = this.database.urlOf('cagepost');
    return url;
  }

  /** Starts the server or the worker; does not wait for it. */
  start(name: 'server' | 'worker'): void {
    const { origin, env } = this.settings;
    const next = path.join(root, 'node_modules/next/dist/bin/next');
    const args = {
      server: [next, 'start', '-H', '127.0.0.1', '-p', new URL(origin).port],
      worker: ['--import', 'tsx', path.join(root, 'lib/worker/main.ts')],
    }[name];
    const child = spawn(process.execPath, [...withParent, ...args], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
      env: { ...env, CAGEPOST_PARENT: String(process.pid) },
    });
    for (const stream of [child.stdout, child.stderr])
      stream?.setEncoding('utf8').on('data', (text: string) => this.said.push(`${name}: ${text}`));
    this.programs.set(name, child);
    // One that falls by itself is started again, as `npm start` and a supervisor do.
    child.once('exit', () => {
      if (this.isEnding || this.programs.get(name) !== child) return;
      this.said.push(`${name}: ended by itself\n`);
      this.start(name);
    });
  }

  /** Ends one of them as a power cut does. */
  async kill(victim: Victim): Promise<void> {
    if (victim === 'database') {
      const pid = this.database?.pid ?? 0;
      process.kill(pid, 'SIGKILL');
      await until(() => !isThere(pid), { what: 'the end of the database', patienceMs: PATIENCE_MS });
      return;
    }
    const child = this.programs.get(victim);
    this.programs.delete(victim);
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    child.kill('SIGKILL');
    await once(child, 'exit');
  }

  /** Brings the victim up again; resolves once it answers (the worker: once it is started). */
  async revive(victim: Victim): Promise<void> {
    if (victim === 'database') {
      const url = await this.startDatabase();
      await until(() => isReachable(url), { what: 'the database', patienceMs: PATIENCE_MS });
      return;
    }
    this.start(victim);
    if (victim === 'server') await this.serves();
  }

  /** Resolves once the server answers anything at all. */
  serves(): Promise<void> {
    const ask = () => fetch(`${this.settings.origin}/api/auth/csrf`).then((answer) => answer.ok);
    return until(ask, { what: 'the server', patienceMs: PATIENCE_MS, everyMs: 50 });
  }

  /** Ends the server and the worker in order and leaves the database to be looked at. */
  async endPrograms(): Promise<void> {
    this.isEnding = true;
    for (const child of this.programs.values()) {
      if (child.exitCode !== null || child.signalCode !== null) continue;
      child.kill('SIGTERM');
      await once(child, 'exit');
    }
  }

  async endDatabase(): Promise<void> {
    await this.database?.stop();
  }
}
