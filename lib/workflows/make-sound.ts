import path from 'node:path';
import { readReadyFiles } from '@/lib/data/breakdowns.system';
import { breakdownFolder, soundFile, voiceFile, voiceTypeOf } from '@/lib/domain/breakdowns/files';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { MediaEngine } from '@/lib/platform/media/engine';
import type { Ports } from './ports';

/**
 * Writes the voice of a breakdown anew as AAC and keeps it beside the voice, for files that are made of it. A repeat
 * finds it there. Throws `unavailable` when it could not be made now, so that the queue tries again.
 */
export async function makeSound(
  ports: Pick<Ports, 'storage' | 'log'> & { engine: Pick<MediaEngine, 'encodeSound' | 'workspace'> },
  system: System,
  breakdownId: BreakdownId,
): Promise<void> {
  const { storage, engine } = ports;
  const files = await readReadyFiles(system, breakdownId);
  const type = files?.voiceType ? voiceTypeOf(files.voiceType) : null;
  if (!files || type === null) return;
  const folder = breakdownFolder(breakdownId);
  const target = `${folder}/${soundFile(files.take)}`;
  if ((await storage.size(target)) !== null) return;
  const workspace = await engine.workspace(breakdownId);
  const voice = await storage.local(`${folder}/${voiceFile(files.take, type)}`);
  try {
    const outcome = await engine.encodeSound({
      ...{ folder: workspace.folder, voice: voice.path, type },
      durationMs: files.durationMs,
    });
    if (!outcome.ok)
      throw new CagepostError('unavailable', 'The sound of the file could not be made.', {
        fault: outcome.fault,
        detail: outcome.detail,
      });
    await storage.put(target, { path: path.join(workspace.folder, 'sound.m4a') });
    // Removed while it was made: then nothing of it stays.
    if (!(await readReadyFiles(system, breakdownId))) await storage.remove(folder);
  } finally {
    await voice.release();
    await workspace.release();
  }
}
