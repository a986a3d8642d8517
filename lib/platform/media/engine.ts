import { mkdir } from 'node:fs/promises';
import type { ClipFault } from '@/lib/domain/clips/clip';
import type { PreparedFacts } from '@/lib/domain/clips/prepared';
import { startChild, type ChildOutcome, type EngineChild } from './engine-child';
import type { FilmJob, OriginalFacts, SoundJob, VoiceJob, Work } from './messages';
import { openWorkspace } from './workspace';

export interface EngineSettings {
  /** Folder for work in progress, on a disk with room for a copy of the largest original. */
  scratch: string;
  /** Refuse larger and longer files. */
  maxBytes: number;
  maxSeconds: number;
  /** Resident memory of a child, in MiB; above it the child is killed. */
  memoryMiB?: number;
  /** A child that says nothing for so long is killed. */
  silenceMs?: number;
  /** No file may take longer than this. */
  totalMs?: number;
  /** Files at the same time; each has a child of its own. */
  children?: number;
  /** Files that one child may do; a fresh process gives all memory back. */
  filesPerChild?: number;
}

export interface PrepareJob {
  /** Path of the original; it is only read. */
  original: string;
  /** An empty folder that takes the derived files (`DERIVED_FILES`, and the wiped original when it had a location). */
  folder: string;
  /** Media type that the sender declared; empty when none was. */
  declaredType: string;
  /** Capture rate that is known already, which overrules the file's; null when not. */
  knownRate: number | null;
  /** Whether the sound of the original is left out of the rendition. */
  isSilent: boolean;
  onProgress?: (percent: number) => void;
}

/** How preparing ended; `original` tells how the search for location data ended, null when it was not reached. */
export type PrepareOutcome = { original: OriginalFacts | null } & (
  { ok: true; facts: PreparedFacts } | { ok: false; fault: ClipFault; detail: string }
);

/** Reads originals and writes renditions, each in a process that may die without harm. */
export interface MediaEngine {
  /** Never throws because of the file: every file ends with facts or a fault. Waits for a free child. */
  prepare(job: PrepareJob): Promise<PrepareOutcome>;
  /** Joins pieces of takes into one voice in the folder of the job. Never throws because of the files. */
  joinVoice(job: Omit<VoiceJob, 'kind'>): Promise<ChildOutcome<'voice'>>;
  /** Writes a voice anew as AAC, `sound.m4a` in the folder of the job. Never throws because of the file. */
  encodeSound(job: Omit<SoundJob, 'kind'>): Promise<ChildOutcome<'sound'>>;
  /** Makes `film.mp4` in the folder of the job; ends with the fault `interrupted` when `signal` fires. */
  renderFilm(
    job: Omit<FilmJob, 'kind'>,
    options: { onProgress?: (percent: number) => void; signal?: AbortSignal },
  ): Promise<ChildOutcome<'film'>>;
  /** An empty folder for one try at a clip or a breakdown; `release` removes it with all that is in it. */
  workspace(clipId: string): Promise<{ folder: string; release(): Promise<void> }>;
  /** Ends all children; jobs at work end with the fault `interrupted`. */
  close(): Promise<void>;
}

/** Makes an engine; children are started when there is work. Callers wait in line when all are busy. */
export function createMediaEngine(settings: EngineSettings): MediaEngine {
  const limits = {
    memoryMiB: settings.memoryMiB ?? 2048,
    silenceMs: settings.silenceMs ?? 90_000,
    totalMs: settings.totalMs ?? 30 * 60_000,
  };
  const filesPerChild = settings.filesPerChild ?? 1;
  let free = settings.children ?? 1;
  let isClosed = false;
  const waiting: (() => void)[] = [];
  const idle: { child: EngineChild; files: number }[] = [];
  const busy = new Set<EngineChild>();

  const enter = async () => {
    if (free > 0) free--;
    else await new Promise<void>((resolve) => waiting.push(resolve));
  };
  const leave = () => {
    const next = waiting.shift();
    if (next) next();
    else free++;
  };

  const run = async <Kind extends Work['kind']>(
    work: Extract<Work, { kind: Kind }>,
    onProgress?: (percent: number) => void,
    signal?: AbortSignal,
  ): Promise<ChildOutcome<Kind>> => {
    await enter();
    try {
      await mkdir(work.folder, { recursive: true });
      // Asked last, so that no child is started behind the back of `close`.
      if (isClosed || signal?.aborted)
        return { ok: false, fault: 'interrupted', detail: 'ended before it began', original: null };
      const at = idle.pop() ?? { child: startChild(limits), files: 0 };
      busy.add(at.child);
      const stop = () => void at.child.end();
      signal?.addEventListener('abort', stop);
      const outcome = await at.child.run<Kind>(work, onProgress);
      signal?.removeEventListener('abort', stop);
      busy.delete(at.child);
      at.files++;
      if (at.child.isAlive() && at.files < filesPerChild && !isClosed) idle.push(at);
      else await at.child.end();
      return outcome;
    } finally {
      leave();
    }
  };

  return {
    workspace: (clipId) => openWorkspace(settings.scratch, clipId),
    prepare: ({ onProgress, ...job }) =>
      run<'prepare'>(
        { kind: 'prepare', ...job, maxBytes: settings.maxBytes, maxSeconds: settings.maxSeconds },
        onProgress,
      ),
    joinVoice: (job) => run<'voice'>({ kind: 'voice', ...job }),
    renderFilm: (job, { onProgress, signal }) => run<'film'>({ kind: 'film', ...job }, onProgress, signal),
    encodeSound: (job) => run<'sound'>({ kind: 'sound', ...job }),
    async close() {
      isClosed = true;
      await Promise.all([
        ...idle.splice(0).map(({ child }) => child.end()),
        ...[...busy].map((child) => child.end()),
      ]);
    },
  };
}
