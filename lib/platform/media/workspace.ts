import { randomUUID } from 'node:crypto';
import { mkdir, readdir, rm } from 'node:fs/promises';
import path from 'node:path';

const isRunning = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // It runs, and belongs to somebody else.
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
};

/**
 * Makes a folder of its own under `scratch` for one try at a clip, and removes what killed processes left there: the
 * names carry the process id.
 */
export async function openWorkspace(
  scratch: string,
  clipId: string,
): Promise<{ folder: string; release(): Promise<void> }> {
  await mkdir(scratch, { recursive: true, mode: 0o700 });
  for (const name of await readdir(scratch)) {
    const owner = Number(/^prepare-(\d+)-/.exec(name)?.[1]);
    if (owner && owner !== process.pid && !isRunning(owner))
      await rm(path.join(scratch, name), { recursive: true, force: true });
  }
  const folder = path.join(scratch, `prepare-${process.pid}-${clipId}-${randomUUID().slice(0, 8)}`);
  await mkdir(folder, { mode: 0o700 });
  return { folder, release: () => rm(folder, { recursive: true, force: true }) };
}
