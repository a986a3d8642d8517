import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import {
  beginExport,
  failExport,
  finishExport,
  noteExportProgress,
  type ExportToMake,
} from '@/lib/data/breakdown-exports.system';
import {
  breakdownFolder,
  exportFile,
  timelineFile,
  voiceFile,
  voiceTypeOf,
} from '@/lib/domain/breakdowns/files';
import { fitsClips, parseTimeline } from '@/lib/domain/breakdowns/parse-timeline';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { ExportId } from '@/lib/domain/shared/ids';
import type { MediaEngine } from '@/lib/platform/media/engine';
import type { FilmPlanFile } from '@/lib/platform/media/messages';
import { bytesOf } from './bytes-of';
import type { Ports } from './ports';

export type ExportPorts = Pick<Ports, 'storage' | 'log' | 'clock'> & {
  engine: Pick<MediaEngine, 'renderFilm' | 'workspace'>;
  /** What the pictures of the film are, and the script of what is drawn on them. */
  planFilm: (
    timeline: Timeline,
    sizes: ReadonlyMap<string, PictureSize>,
    cues: readonly Cue[] | null,
  ) => FilmPlanFile & { script: string };
};

const KEPT = 'The breakdown itself is as it was.';

/**
 * Makes the MP4 that somebody asked for, from the renditions of the clips, the timeline and the voice. Ends early when
 * it is cancelled. Throws `unavailable` where another try may help, so that the queue tries again.
 */
export async function renderExport(
  ports: ExportPorts,
  system: System,
  exportId: ExportId,
): Promise<'ready' | 'failed' | 'nothing-to-do'> {
  const wanted = await beginExport(system, exportId);
  if (!wanted) return 'nothing-to-do';
  const workspace = await ports.engine.workspace(exportId);
  try {
    return await renderIn(workspace.folder, ports, system, exportId, wanted);
  } catch (error) {
    const isKnown = error instanceof CagepostError && error.fault !== 'unavailable';
    ports.log.warn({ exportId, err: error }, 'a file of a breakdown could not be made');
    if (!isKnown) throw error;
    await failExport(system, exportId, error.forPeople);
    return 'failed';
  } finally {
    await workspace.release();
  }
}

async function renderIn(
  folder: string,
  { storage, engine, planFilm, clock }: ExportPorts,
  system: System,
  exportId: ExportId,
  wanted: ExportToMake,
): Promise<'ready' | 'failed' | 'nothing-to-do'> {
  const home = breakdownFolder(wanted.breakdownId);
  const bytes = await bytesOf(storage, `${home}/${timelineFile(wanted.take)}`);
  if (!bytes) throw new CagepostError('not-found', `The breakdown is not there any more. ${KEPT}`);
  const timeline = parseTimeline(JSON.parse(Buffer.from(bytes).toString('utf8')));
  const [misfit] = fitsClips(timeline, wanted.clips);
  if (misfit) throw new CagepostError('invalid', `${misfit.sentence} A file cannot be made of it.`);

  const releases: (() => Promise<void>)[] = [];
  const local = async (key: string) => {
    const file = await storage.local(key);
    releases.push(file.release);
    return file.path;
  };
  try {
    const sizes = new Map<string, PictureSize>(wanted.clips.map((clip) => [clip.id, clip]));
    const cues = wanted.vtt === '' ? [] : parseVtt(wanted.vtt).cues;
    const { script, ...plan } = planFilm(timeline, sizes, wanted.captionsIn === 'burnt' ? cues : null);
    const write = async (name: string, text: string) => {
      const file = path.join(folder, name);
      await writeFile(file, text, { mode: 0o600 });
      return file;
    };
    const type = wanted.voiceType === null ? null : voiceTypeOf(wanted.voiceType);
    const clips = [];
    for (const { clipId } of timeline.clips)
      clips.push({ clipId, file: await local(`clips/${clipId}/review.mp4`) });
    const isTrack = wanted.captionsIn === 'track' && cues.length > 0;
    const cancelled = new AbortController();
    const outcome = await engine.renderFilm(
      {
        ...{ folder, clips },
        plan: await write('plan.json', JSON.stringify(plan)),
        script: await write('drawings.ass', script),
        voice: type && { file: await local(`${home}/${voiceFile(wanted.take, type)}`), type },
        captions: isTrack ? await write('captions.vtt', wanted.vtt) : null,
      },
      {
        signal: cancelled.signal,
        onProgress: (percent) =>
          void noteExportProgress(system, exportId, percent).then(
            (isWanted) => !isWanted && cancelled.abort(),
            () => {},
          ),
      },
    );
    if (cancelled.signal.aborted) return 'nothing-to-do';
    if (!outcome.ok) throw faultOf(outcome);
    const storageKey = `${home}/${exportFile(exportId)}`;
    await storage.put(storageKey, { path: path.join(folder, 'film.mp4') });
    if (await finishExport(system, exportId, { storageKey, at: clock.now() })) return 'ready';
    await storage.remove(storageKey);
    return 'nothing-to-do';
  } finally {
    for (const release of releases) await release();
  }
}

const faultOf = ({ fault, detail }: { fault: string; detail: string }) =>
  ['interrupted', 'disk-full'].includes(fault)
    ? new CagepostError('unavailable', `The file could not be made now. ${KEPT}`, { fault, detail })
    : new CagepostError(
        'internal',
        `The file could not be made. ${KEPT} Try once more, or make it in another browser.`,
        { fault, detail },
      );
