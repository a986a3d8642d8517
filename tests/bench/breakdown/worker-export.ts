import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import { createMediaEngine } from '@/lib/platform/media/engine';
import { planFilm } from '@/lib/review/export/film-plan';
import type { PreparedClip } from '../frames/prepare';

/** A recorded breakdown as it comes out of the page: its timeline as JSON, and the recorder's own bytes in Base64. */
export interface TakenOut {
  readonly timeline: string;
  readonly voice: string;
}

/** Makes the file with voice as a worker does. Answers how many times faster than it lasts, the joining left out. */
export const exportByWorker = async (
  taken: TakenOut,
  clip: PreparedClip,
  folder: string,
): Promise<number> => {
  const scratch = path.join(folder, 'worker');
  await mkdir(scratch, { recursive: true });
  const engine = createMediaEngine({ scratch, maxBytes: 2 ** 30, maxSeconds: 180, filesPerChild: 100 });
  const inScratch = async (name: string, content: string | Buffer) => {
    const file = path.join(scratch, name);
    await writeFile(file, content);
    return file;
  };
  try {
    const timeline = parseTimeline(JSON.parse(taken.timeline));
    const take = await inScratch('take', Buffer.from(taken.voice, 'base64'));
    const joined = await engine.joinVoice({
      folder: scratch,
      takes: [{ file: take, type: 'audio/webm' }],
      pieces: [{ take: 0, fromMs: 0, toMs: timeline.durationMs }],
    });
    if (!joined.ok) throw new Error(`The voice was not joined: ${joined.fault}, ${joined.detail}`);
    const began = performance.now();
    const sizes = new Map(timeline.clips.map(({ clipId }) => [clipId, clip.table]));
    const { script, ...plan } = planFilm(timeline, sizes, null);
    const film = await engine.renderFilm(
      {
        folder: scratch,
        plan: await inScratch('plan.json', JSON.stringify(plan)),
        script: await inScratch('drawings.ass', script),
        clips: timeline.clips.map(({ clipId }) => ({
          clipId,
          file: path.join(folder, clip.name, 'review.mp4'),
        })),
        voice: { file: path.join(scratch, joined.facts.file), type: joined.facts.type },
        captions: null,
      },
      { onProgress: () => undefined },
    );
    if (!film.ok) throw new Error(`The file was not made: ${film.fault}, ${film.detail}`);
    return timeline.durationMs / (performance.now() - began);
  } finally {
    await engine.close();
  }
};
