import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { BreakdownToAssemble } from '@/lib/data/breakdowns.system';
import type { BreakdownFault } from '@/lib/domain/breakdowns/breakdown-faults';
import { voiceTypeOf, type VoiceType } from '@/lib/domain/breakdowns/files';
import { joinParts, readPart, type Take } from '@/lib/domain/breakdowns/parse-part';
import type { PartHead } from '@/lib/domain/breakdowns/timeline';
import { bytesOf } from './bytes-of';
import type { Storage } from './ports';

/** A breakdown cannot be put together, for one of the closed reasons. */
export class AssemblyFault extends Error {
  override readonly name = 'AssemblyFault';
  constructor(
    readonly fault: BreakdownFault,
    message: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

/** A take with its events, and where its voice lies as the recorder wrote it; null without a voice. */
export interface TakeFile {
  take: Take;
  voice: { file: string; type: VoiceType } | null;
}

const readPartAt = async (storage: Storage, key: string) => {
  const bytes = await bytesOf(storage, key);
  if (!bytes) throw new AssemblyFault('parts-missing', `${key} is not in storage`);
  try {
    return readPart(bytes);
  } catch (error) {
    throw new AssemblyFault('parts-broken', key, { cause: error });
  }
};

const writeVoice = async (
  folder: string,
  segmentId: string,
  parts: readonly { head: PartHead; voice: Uint8Array }[],
): Promise<TakeFile['voice']> => {
  const type = voiceTypeOf(parts.find((part) => part.head.voiceType !== '')?.head.voiceType ?? '');
  const bytes = Buffer.concat(parts.map((part) => part.voice));
  if (type === null || bytes.length === 0) return null;
  const file = path.join(folder, `take-${segmentId}`);
  await writeFile(file, bytes, { mode: 0o600 });
  return { file, type };
};

/**
 * Reads the parts of every take that the recipe uses and writes the voice of each into the folder. Throws an
 * AssemblyFault when parts are missing or damaged. A remark brings its voice only: its events are of no clip.
 */
export async function takeFiles(
  storage: Storage,
  folder: string,
  breakdown: BreakdownToAssemble,
): Promise<Map<string, TakeFile>> {
  const files = new Map<string, TakeFile>();
  for (const { segmentId, kind } of breakdown.recipe.pieces) {
    if (files.has(segmentId)) continue;
    const keys =
      kind === 'remark'
        ? [breakdown.remarks.get(segmentId)?.storageKey].filter((key) => key !== undefined)
        : breakdown.parts
            .filter((part) => part.segmentId === segmentId)
            .sort((a, b) => a.number - b.number)
            .map((part) => part.storageKey);
    if (keys.length === 0)
      throw new AssemblyFault(kind === 'remark' ? 'remark-gone' : 'parts-missing', `nothing of ${segmentId}`);
    const parts = [];
    for (const key of keys) parts.push(await readPartAt(storage, key));
    const take = takeOf(
      segmentId,
      parts.map((part) => part.head),
    );
    const isRemark = kind === 'remark';
    files.set(segmentId, {
      take: isRemark ? { ...take, events: [] } : take,
      voice: await writeVoice(folder, segmentId, parts),
    });
  }
  return files;
}

function takeOf(segmentId: string, heads: readonly PartHead[]): Take {
  let take: Take;
  try {
    take = joinParts(heads);
  } catch (error) {
    throw new AssemblyFault('parts-broken', segmentId, { cause: error });
  }
  if (take.missing.length > 0)
    throw new AssemblyFault('parts-missing', `${segmentId}: ${take.missing.slice(0, 20).join(', ')}`);
  return take;
}
