import { text } from 'node:stream/consumers';
import { frameTableSchema, type FrameTable } from '@/lib/domain/clips/frame-table';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { ClipId } from '@/lib/domain/shared/ids';
import { ports } from './ports';

/** A table never changes once its clip is ready. */
const kept = new Map<ClipId, FrameTable>();
const MOST_KEPT = 300;

/**
 * The frame tables of ready clips, with the capture rate that somebody confirmed. The caller has looked whether the
 * viewer may see the clips. A table that cannot be read is left out and noted in the log: its clip goes unmeasured.
 */
export async function frameTables(
  clips: readonly Pick<ClipFacts, 'id' | 'captureRate' | 'rateIsSure'>[],
): Promise<ReadonlyMap<ClipId, FrameTable>> {
  const read = await Promise.all(
    clips.map(async (clip) => {
      const table = await tableOf(clip.id);
      return table
        ? [[clip.id, { ...table, captureRate: clip.rateIsSure ? clip.captureRate : null }] as const]
        : [];
    }),
  );
  return new Map(read.flat());
}

async function tableOf(clipId: ClipId): Promise<FrameTable | null> {
  const known = kept.get(clipId);
  if (known) return known;
  try {
    const file = await ports.storage.read(`clips/${clipId}/frames.json`);
    if (!file) return null;
    const table = frameTableSchema.parse(JSON.parse(await text(file)));
    const [oldest] = kept.keys();
    if (oldest && kept.size >= MOST_KEPT) kept.delete(oldest);
    kept.set(clipId, table);
    return table;
  } catch (error) {
    ports.log.warn({ clipId, error: String(error) }, 'a frame table could not be read');
    return null;
  }
}
