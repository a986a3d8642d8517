import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { ClipFault } from '@/lib/domain/clips/clip';
import {
  answerSchema,
  FACTS_OF_WORK,
  type FactsOf,
  type JobMessage,
  type OriginalFacts,
  type Work,
} from './messages';

export interface ChildLimits {
  memoryMiB: number;
  silenceMs: number;
  totalMs: number;
}

/** How a job ended; `original` as in `PrepareOutcome`. */
export type ChildOutcome<Kind extends Work['kind']> = { original: OriginalFacts | null } & (
  { ok: true; facts: FactsOf<Kind> } | { ok: false; fault: ClipFault; detail: string }
);

export interface EngineChild {
  run<Kind extends Work['kind']>(
    work: Extract<Work, { kind: Kind }>,
    onProgress?: (percent: number) => void,
  ): Promise<ChildOutcome<Kind>>;
  isAlive(): boolean;
  /** Kills the process and waits for its end. */
  end(): Promise<void>;
}

const WATCH_EVERY_MS = 250;
const LAST_WORDS = 2000;

/** Resident memory of a process in MiB, or null where the system does not tell. */
function residentMiB(pid: number): number | null {
  try {
    if (process.platform === 'linux') {
      const kibibytes = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
      return kibibytes ? Number(kibibytes) / 1024 : null;
    }
    if (process.platform === 'win32') return null;
    const told = spawnSync('ps', ['-o', 'rss=', '-p', String(pid)], { encoding: 'utf8' }).stdout;
    return Number(told) > 0 ? Number(told) / 1024 : null;
  } catch {
    return null;
  }
}

function spawnChild(): ChildProcess {
  const entry = fileURLToPath(new URL('./child.ts', import.meta.url));
  const loader = pathToFileURL(createRequire(import.meta.url).resolve('tsx')).href;
  return spawn(process.execPath, ['--max-old-space-size=512', '--import', loader, entry], {
    stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    // Nothing of the environment reaches the process that opens files of strangers: no address, no secret.
    env: { PATH: process.env.PATH ?? '', NODE_ENV: 'production', TZ: 'UTC' } as NodeJS.ProcessEnv,
  });
}

/** Starts a child of the engine that works under the limits. One job at a time. */
export function startChild(limits: ChildLimits): EngineChild {
  const child = spawnChild();
  let isOver = false;
  let isReady = false;
  let jobs = 0;
  let lastWords = '';
  child.stderr?.setEncoding('utf8').on('data', (words: string) => {
    lastWords = (lastWords + words).slice(-LAST_WORDS);
  });
  child.on('message', () => {
    isReady = true;
  });
  const ended = new Promise<void>((resolve) => {
    const over = () => {
      isOver = true;
      resolve();
    };
    child.once('exit', over);
    child.once('error', over);
  });
  const kill = () => {
    child.kill('SIGKILL');
  };

  const run = <Kind extends Work['kind']>(
    work: Extract<Work, { kind: Kind }>,
    onProgress?: (percent: number) => void,
  ): Promise<ChildOutcome<Kind>> =>
    new Promise((resolve) => {
      const number = ++jobs;
      let original: OriginalFacts | null = null;
      let killedFor: { fault: ClipFault; detail: string } | null = null;
      const startedAt = Date.now();
      let heardAt = startedAt;

      const stop = (fault: ClipFault, detail: string) => {
        killedFor ??= { fault, detail };
        kill();
      };
      const watch = setInterval(() => {
        const now = Date.now();
        const memory = child.pid === undefined ? null : residentMiB(child.pid);
        if (memory !== null && memory > limits.memoryMiB) stop('out-of-memory', `${Math.round(memory)} MiB`);
        else if (now - startedAt > limits.totalMs) stop('out-of-time', `more than ${limits.totalMs} ms`);
        else if (now - heardAt > limits.silenceMs) stop('out-of-time', `silent for ${limits.silenceMs} ms`);
      }, WATCH_EVERY_MS);

      const finish = (outcome: ChildOutcome<Kind>) => {
        clearInterval(watch);
        child.off('message', hear);
        resolve(outcome);
      };
      const hear = (message: unknown) => {
        const answer = answerSchema.safeParse(message);
        if (!answer.success) {
          stop('unreadable', 'the engine answered something unknown');
          return;
        }
        heardAt = Date.now();
        if (answer.data.kind === 'ready' || answer.data.job !== number) return;
        if (answer.data.kind === 'alive') onProgress?.(answer.data.percent);
        else if (answer.data.kind === 'original') original = answer.data.facts;
        else if (!answer.data.outcome.ok) finish({ ...answer.data.outcome, original });
        else {
          const facts = FACTS_OF_WORK[work.kind].safeParse(answer.data.outcome.facts);
          if (facts.success) finish({ ok: true, facts: facts.data as FactsOf<Kind>, original });
          else stop('unreadable', 'the engine answered facts of another shape');
        }
      };
      child.on('message', hear);
      void ended.then(() => {
        // A process that broke on a file leaves a reason too: it could not be read.
        const how = `the engine ended with ${child.signalCode ?? child.exitCode ?? 'an error'}: ${lastWords}`;
        finish({ ok: false, ...(killedFor ?? { fault: endFault(), detail: how }), original });
      });
      const message: JobMessage = { job: number, work };
      if (!isOver) child.send(message, (error) => error && kill());
    });

  let isEnding = false;
  const endFault = (): ClipFault => {
    // Ended from outside (a shutdown, the system short of memory) or never started: that says nothing about the file.
    if (isEnding || !isReady || child.signalCode === 'SIGKILL' || child.signalCode === 'SIGTERM')
      return 'interrupted';
    return lastWords.includes('heap out of memory') ? 'out-of-memory' : 'unreadable';
  };

  return {
    run,
    isAlive: () => !isOver,
    async end() {
      isEnding = true;
      kill();
      await ended;
    },
  };
}
