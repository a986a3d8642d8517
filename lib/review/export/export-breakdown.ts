import {
  BufferTarget,
  canEncodeVideo,
  CanvasSource,
  Mp4OutputFormat,
  Output,
  Quality,
  TextSubtitleSource,
} from 'mediabunny';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import { CagepostError } from '@/lib/domain/shared/errors';
import { paintCaption } from '../canvas/paint-caption';
import { paintScene, type SceneStage } from '../canvas/paint-scene';
import { isAbort, type FrameSource } from '../media/frame-source';
import { pictureRun } from './picture-run';
import { ScenePictureRun } from './scene-pictures';
import { openVoiceTrack } from './voice-track';
import { writtenCues } from './written-cues';

/** Pixels of the shorter side, at most. */
const SHORT_SIDE = 720;
/** Marks and captions are drawn as on a screen whose shorter side has this many CSS pixels. */
const SCREEN_SIDE = 480;
/** Bits a second for pictures that differ; those that stay cost nothing. */
const PICTURE_BITS = 2_500_000;
const KEY_EVERY_S = 4;

/** Where captions go: into the picture, into a track of their own, or nowhere. */
export type CaptionsIn = 'burnt' | 'track' | 'none';

export interface ExportOptions {
  timeline: Timeline;
  /** The recorded voice, or null for a silent breakdown. */
  voice: Blob | null;
  /** The same voice as AAC in MP4, asked for only where the browser cannot make it. */
  voiceAsAac?: (signal?: AbortSignal) => Promise<Blob>;
  /** Opens a clip for this export alone; it is closed by it. */
  openSource: (clipId: string, signal?: AbortSignal) => Promise<FrameSource>;
  /** The captions as WebVTT and as a list; null when there are none. */
  captions: { vtt: string; cues: readonly Cue[] } | null;
  how: CaptionsIn;
  /** Told the part that is done, 0 to 1, after each picture. */
  onProgress?: (part: number) => void;
  signal?: AbortSignal;
}

/** Whether this browser can make the pictures of such a file. */
export async function canExportHere(): Promise<boolean> {
  if (typeof VideoEncoder === 'undefined') return false;
  return canEncodeVideo('avc', { width: 1280, height: 720, quality: new Quality({ bitrate: PICTURE_BITS }) });
}

/**
 * Makes one MP4 (H.264, AAC) of a breakdown: what the player shows, over the voice, as long as the breakdown. Pictures
 * that do not change are encoded once and last. Rejects with a CagepostError that can be shown, or with AbortError
 * when `signal` aborts; nothing is left open either way.
 */
export async function exportBreakdown(options: ExportOptions): Promise<Blob> {
  const { timeline, voice, captions, how, onProgress, signal } = options;
  signal?.throwIfAborted();
  if (!(await canExportHere()))
    throw new CagepostError(
      'unsupported',
      'This browser cannot make such a file. The program can make it instead.',
    );
  const pictures = new ScenePictureRun(options.openSource, signal);
  const track = voice ? await openVoiceTrack(voice, options.voiceAsAac, signal) : null;
  const target = new BufferTarget();
  const output = new Output({ format: new Mp4OutputFormat({ fastStart: 'in-memory' }), target });
  try {
    const run = pictureRun(timeline, how === 'burnt' ? cuesOf(options) : []);
    let shown = next(run);
    const first = await pictures.of(shown.scene);
    const canvas = document.createElement('canvas');
    const stage = stageFor(first.main ?? { width: 16, height: 9 });
    canvas.width = Math.round(stage.width * stage.dpr);
    canvas.height = Math.round(stage.height * stage.dpr);
    const context = canvas.getContext('2d', { alpha: false, willReadFrequently: true });
    if (!context) throw new CagepostError('unsupported', 'This browser gave no canvas to draw on.');
    const film = new CanvasSource(canvas, {
      codec: 'avc',
      quality: new Quality({ bitrate: PICTURE_BITS }),
      keyFrameInterval: KEY_EVERY_S,
    });
    output.addVideoTrack(film);
    if (track) output.addAudioTrack(track.source);
    const words = how === 'track' && captions ? new TextSubtitleSource('webvtt') : null;
    if (words) output.addSubtitleTrack(words, { languageCode: 'und' });
    await output.start();
    if (words && captions) {
      await words.add(captions.vtt);
      words.close();
    }
    // Beside the pictures, not after them: the writer lays the tracks into each other.
    const sound = track?.write(timeline.durationMs, signal);
    sound?.catch(() => {}); // awaited below; a failing picture must not leave it unheard
    for (;;) {
      signal?.throwIfAborted();
      paintScene(context, shown.scene, stage, await pictures.of(shown.scene));
      if (how === 'burnt') paintCaption(context, shown.caption, stage);
      const { value: later } = run.next();
      const untilMs = later ? later.atMs : timeline.durationMs;
      await film.add(shown.atMs / 1000, (untilMs - shown.atMs) / 1000);
      onProgress?.(untilMs / timeline.durationMs);
      if (!later) break;
      shown = later;
    }
    film.close();
    await sound;
    await output.finalize();
    if (!target.buffer) throw new TypeError('The file was finished without a buffer.');
    return new Blob([target.buffer], { type: 'video/mp4' });
  } catch (error) {
    await output.cancel().catch(() => {});
    throw asFault(error);
  } finally {
    pictures.dispose();
    track?.dispose();
  }
}

/** Written cues of a silent breakdown stand in the scenes already; spoken ones in the captions. */
const cuesOf = ({ captions, timeline }: ExportOptions): readonly Cue[] =>
  captions && captions.cues.length > 0 ? captions.cues : writtenCues(timeline);

const next = (run: ReturnType<typeof pictureRun>) => {
  const { value } = run.next();
  if (!value) throw new TypeError('A breakdown has at least one picture.');
  return value;
};

/** The file's picture: the proportions of the first clip, even numbers of pixels, as H.264 needs. */
const stageFor = ({ width, height }: PictureSize): SceneStage => {
  const shrink = Math.min(1, SHORT_SIDE / Math.min(width, height));
  const even = (length: number) => Math.max(2, 2 * Math.round((length * shrink) / 2));
  const [wide, high] = [even(width), even(height)];
  const dpr = Math.max(1, Math.min(wide, high) / SCREEN_SIDE);
  return { width: wide / dpr, height: high / dpr, dpr };
};

const asFault = (error: unknown) =>
  error instanceof CagepostError || isAbort(error)
    ? error
    : new CagepostError(
        'internal',
        'The file could not be finished. The breakdown itself is as it was; try again, or let the program make the file.',
        {},
        { cause: error },
      );
