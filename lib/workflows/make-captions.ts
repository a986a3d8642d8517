import { failMadeCaptions, keepMadeCaptions, readReadyFiles } from '@/lib/data/breakdowns.system';
import { breakdownFolder, voiceFile, voiceTypeOf } from '@/lib/domain/breakdowns/files';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import { writeVtt } from '@/lib/domain/captions/write-vtt';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Captioner, Ports } from './ports';

/** What the coach reads after a reason why there are no captions. */
const YOURS = 'Nothing of the breakdown is lost. Write the captions yourself, or ask the service once more.';

/**
 * Has the speech service write down a breakdown and keeps what it heard as a draft: the coach reads it over. What the
 * coach wrote meanwhile stays. When the service gives nothing usable, why stands beside the captions.
 */
export async function makeCaptions(
  ports: Pick<Ports, 'storage' | 'log'> & { captioner: Captioner | null },
  system: System,
  breakdownId: BreakdownId,
): Promise<'draft' | 'failed' | 'nothing-to-do'> {
  const files = await readReadyFiles(system, breakdownId);
  const type = files?.voiceType ? voiceTypeOf(files.voiceType) : null;
  if (!files || type === null) return 'nothing-to-do';
  const fail = async (sentence: string, error?: unknown) => {
    ports.log.warn({ breakdownId, err: error }, 'no captions from the speech service');
    await failMadeCaptions(system, breakdownId, `${sentence} ${YOURS}`);
    return 'failed' as const;
  };
  if (!ports.captioner) return fail('No speech service is set up any more.');
  try {
    const voice = await ports.storage.local(`${breakdownFolder(breakdownId)}/${voiceFile(files.take, type)}`);
    let heard: string;
    try {
      heard = await ports.captioner.transcribe({ path: voice.path, type });
    } finally {
      await voice.release();
    }
    const { cues } = parseVtt(heard);
    const within = cues.filter((cue) => cue.fromMs < files.durationMs);
    if (within.length === 0) return await fail('The speech service heard no words.');
    return (await keepMadeCaptions(system, breakdownId, writeVtt(within))) ? 'draft' : 'nothing-to-do';
  } catch (error) {
    const isUnreadable = error instanceof CagepostError && error.fault === 'invalid';
    if (isUnreadable) return fail('What the speech service answered are no captions.', error);
    return fail(error instanceof CagepostError ? error.forPeople : 'The speech service failed.', error);
  }
}
