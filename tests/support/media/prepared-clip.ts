import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { frameTableSchema } from '@/lib/domain/clips/frame-table';
import { stripSchema } from '@/lib/domain/clips/strip';
import { createMediaEngine, type EngineSettings, type PrepareJob } from '@/lib/platform/media/engine';

/** A folder and an engine for one test file; `close` ends the engine and removes the folder. */
export async function openMediaBench(settings: Partial<EngineSettings> = {}) {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'cagepost-media-test-'));
  const engine = createMediaEngine({
    scratch: path.join(folder, 'scratch'),
    maxBytes: 1024 ** 3,
    maxSeconds: 180,
    filesPerChild: 200,
    ...settings,
  });
  let jobs = 0;
  return {
    folder,
    engine,
    at: (name: string) => path.join(folder, name),
    /** Prepares a file and reads what came out. */
    async prepare(original: string, job: Partial<PrepareJob> = {}) {
      const out = path.join(folder, `out-${++jobs}`);
      const outcome = await engine.prepare({
        original,
        folder: out,
        declaredType: '',
        knownRate: null,
        isSilent: false,
        ...job,
      });
      return { outcome, folder: out, files: (await readdir(out)).sort() };
    },
    async close() {
      await engine.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

export const readFrameTable = async (folder: string) =>
  frameTableSchema.parse(JSON.parse(await readFile(path.join(folder, 'frames.json'), 'utf8')));
export const readStrip = async (folder: string) =>
  stripSchema.parse(JSON.parse(await readFile(path.join(folder, 'strip.json'), 'utf8')));
