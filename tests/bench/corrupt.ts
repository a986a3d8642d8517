import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { CLIP_FAULTS } from '@/lib/domain/clips/clip';
import { DERIVED_FILES, preparedSchema } from '@/lib/domain/clips/prepared';
import { createMediaEngine } from '@/lib/platform/media/engine';
import { corruptions } from './corrupt/corruptions';
import { healthyClips } from './corrupt/healthy-clips';

// Cut, bit-flipped, spliced and lying media files through intake and preparing, as the worker runs them. Counted:
// `crashed`: the caller of the engine threw or got no valid answer; `hung`: no answer after twice the engine's own
// limit; `withoutReason`: a refusal without a closed fault, or an acceptance without all derived files;
// `orphanFiles`: files left in the scratch folder once every try has ended. A child process that dies on a file and
// yields a fault for it is what the child is for, and is told apart (`childDeaths`).

const FILES = Number(process.env.FILES ?? 1050);
const SEED = Number(process.env.SEED ?? 20_251_125);
const TOTAL_MS = 60_000;

const folder = await mkdtemp(path.join(os.tmpdir(), 'cagepost-corrupt-'));
const scratch = path.join(folder, 'scratch');
const engine = createMediaEngine({
  scratch,
  maxBytes: 1024 ** 3,
  maxSeconds: 180,
  memoryMiB: 1024,
  silenceMs: 30_000,
  totalMs: TOTAL_MS,
  children: 2,
  filesPerChild: 40,
});

const figures = { files: 0, crashed: 0, hung: 0, withoutReason: 0, orphanFiles: 0 };
const aside = { ready: 0, childDeaths: 0, faults: {} as Record<string, number> };

const asTimeout = (ms: number) => {
  let timer: NodeJS.Timeout | undefined;
  const promise = new Promise<'hung'>((resolve) => {
    timer = setTimeout(() => resolve('hung'), ms);
  });
  return { promise, clear: () => clearTimeout(timer) };
};

async function one(name: string, bytes: Buffer, declaredType: string): Promise<void> {
  figures.files++;
  const original = path.join(folder, 'originals', name);
  await writeFile(original, bytes);
  const timeout = asTimeout(2 * TOTAL_MS);
  const workspace = await engine.workspace(name.replaceAll(/\W/g, '-'));
  try {
    const job = { original, folder: workspace.folder, declaredType, knownRate: null, isSilent: false };
    const outcome = await Promise.race([engine.prepare(job), timeout.promise]);
    if (outcome === 'hung') {
      figures.hung++;
      console.error(`hung: ${name}`);
      return;
    }
    if (!preparedSchema.safeParse(outcome).success) throw new Error('the answer is none');
    if (outcome.ok) {
      const made = await readdir(workspace.folder);
      if (!DERIVED_FILES.every((file) => made.includes(file))) {
        figures.withoutReason++;
        console.error(`ready without its files: ${name}`);
      }
      aside.ready++;
      return;
    }
    if (!CLIP_FAULTS.includes(outcome.fault) || outcome.detail === '') {
      figures.withoutReason++;
      console.error(`without reason: ${name}`);
    }
    // `interrupted` would mean that somebody else ended the child: nobody does here.
    if (outcome.fault === 'interrupted') {
      figures.crashed++;
      console.error(`interrupted: ${name}: ${outcome.detail}`);
    }
    if (outcome.detail.startsWith('the engine ended')) {
      aside.childDeaths++;
      console.error(`child died: ${name}: ${outcome.detail.slice(0, 120)}`);
    }
    aside.faults[outcome.fault] = (aside.faults[outcome.fault] ?? 0) + 1;
  } catch (error) {
    figures.crashed++;
    console.error(`crashed: ${name}: ${String(error)}`);
  } finally {
    timeout.clear();
    await workspace.release();
    await rm(original, { force: true });
  }
}

try {
  await mkdir(path.join(folder, 'originals'), { recursive: true });
  const clips = await healthyClips(path.join(folder, 'healthy'));
  const healthy = await Promise.all(
    clips.map(async (clip) => ({ ...clip, bytes: await readFile(clip.path) })),
  );
  const startedAt = Date.now();
  const running = new Set<Promise<void>>();
  for (const { name, bytes, declaredType } of corruptions(healthy, FILES, SEED)) {
    const task = one(name, bytes, declaredType).finally(() => running.delete(task));
    running.add(task);
    if (running.size >= 2) await Promise.race(running);
    if (figures.files % 100 === 0)
      console.error(`${figures.files} files, ${Math.round((Date.now() - startedAt) / 1000)} s`);
  }
  await Promise.all(running);
  await engine.close();
  figures.orphanFiles = (await readdir(scratch, { recursive: true })).length;
} finally {
  await engine.close();
  await rm(folder, { recursive: true, force: true });
}
console.log(JSON.stringify({ seed: SEED, ...aside }));
console.log(JSON.stringify(figures));
