import { readFile, writeFile } from 'node:fs/promises';
import { CodecContext, Dictionary, FFmpegError, FormatContext, Frame, Log, Packet } from 'node-av/lib';
import {
  AV_CODEC_ID_BIN_DATA,
  AV_LOG_ERROR,
  AV_PIX_FMT_RGBA,
  AV_PKT_DATA_DISPLAYMATRIX,
  AVERROR_EAGAIN,
  AVERROR_EOF,
  AVMEDIA_TYPE_DATA,
} from 'node-av/constants';
import { openGraph } from '@/lib/platform/media/filter-graph';
import { addUserData, cutEditList } from './boxes';
import { displayMatrix, openPictures, openTone, type CodecName } from './encoders';
import { countingPainter, turnedCounter, type Painter } from './painters';

export type { Painter };

export interface ClipRecipe {
  /** Where the file goes; its ending chooses the container: .mp4, .mov, .webm or .mkv. */
  path: string;
  frames: number;
  /** Size as coded, before rotation. */
  width?: number;
  height?: number;
  /** Pictures a second as a fraction; 30000/1001 is NTSC. Ignored when `ticks` is given. */
  rate?: { num: number; den: number };
  /** Variable rate: the tick of each frame, rising, in units of 1/timescale seconds. */
  timing?: { timescale: number; ticks: (frame: number) => number };
  codec?: CodecName;
  /** B-frames between references (H.264 and HEVC only). */
  bFrames?: number;
  /** Frames from one key picture to the next; a phone writes about a second. */
  gop?: number;
  /** Display matrix: the clockwise turn that makes the picture upright. The painter draws the picture as coded. */
  rotation?: 0 | 90 | 180 | 270;
  /** Edit list as a trimming phone writes it: frames at the start that are decoded but never shown, and at the end. */
  edit?: { hideFirst?: number; hideLast?: number };
  /** 10 bit HEVC with BT.2020 primaries and the named transfer curve. */
  hdr?: 'hlg' | 'pq';
  /** A sine tone of this many hertz, or no sound. */
  sound?: number | false;
  /** No picture at all. */
  soundOnly?: boolean;
  /** Writes coordinates (ISO 6709) everywhere a phone does: ©xyz, the QuickTime key and a timed track. MP4 and MOV. */
  location?: string;
  /** More file metadata, for example `com.android.capture.fps`. MP4 and MOV keep any key. */
  metadata?: Record<string, string>;
  /** Constant rate factor: lower is larger and nearer to the painting. */
  quality?: number;
  /** Index at the front (faststart) instead of at the end as a phone writes it. */
  indexFirst?: boolean;
  /** Draws the frames; the frame counter over the whole picture unless given. */
  paint?: Painter;
}

/** What was made, for comparing: ticks and frame numbers that are shown, in display order. */
export interface MadeClip {
  path: string;
  timescale: number;
  /** Ticks of the shown frames, first shown frame at 0. */
  shownTicks: number[];
  /** Numbers that the painter was given for the shown frames. */
  shownFrames: number[];
}

Log.setLevel(AV_LOG_ERROR);
// The AV1 encoder writes to the terminal by itself.
process.env.SVT_LOG = '1';

const ok = (code: number, what: string) => FFmpegError.throwIfError(code, what);

/** Makes one real media file with the engine, as the recipe says, and tells what is shown in it. Throws when it cannot. */
export async function makeClip(recipe: ClipRecipe): Promise<MadeClip> {
  const { path, frames, width = 320, height = 180, rate = { num: 30, den: 1 }, hdr, edit = {} } = recipe;
  const codec = hdr ? 'hevc' : (recipe.codec ?? (path.endsWith('.webm') ? 'vp9' : 'h264'));
  const timescale = recipe.timing?.timescale ?? rate.num;
  const ticksOf = recipe.timing?.ticks ?? ((frame: number) => frame * rate.den);
  const ticks = Array.from({ length: frames }, (_, frame) => ticksOf(frame));
  const hidden = edit.hideFirst ?? 0;
  const start = ticks[hidden] ?? 0;
  // H.264 and HEVC need whole colour samples for odd sizes; the others halve them upwards.
  const isOdd = (width % 2 === 1 || height % 2 === 1) && (codec === 'h264' || codec === 'hevc');
  const isWebm = path.endsWith('.webm');

  const file = new FormatContext();
  ok(file.allocOutputContext2(null, null, path), 'choose the container');
  const encoder = new CodecContext();
  const tone = new CodecContext();
  const packet = new Packet();
  packet.alloc();
  const closing: (() => void)[] = [
    () => packet.free(),
    () => encoder.freeContext(),
    () => tone.freeContext(),
  ];
  try {
    let picture: ReturnType<FormatContext['newStream']> | undefined;
    if (!recipe.soundOnly) {
      openPictures(encoder, recipe, { codec, width, height, timescale, isOdd });
      picture = file.newStream();
      picture.timeBase = encoder.timeBase;
      picture.codecpar.fromContext(encoder);
      if (recipe.rotation)
        picture.codecpar.addCodedSideData(AV_PKT_DATA_DISPLAYMATRIX, displayMatrix(recipe.rotation));
    }

    const soundHz = recipe.soundOnly ? recipe.sound || 440 : recipe.sound;
    let sound: typeof picture;
    if (soundHz) {
      openTone(tone, isWebm);
      sound = file.newStream();
      sound.timeBase = tone.timeBase;
      sound.codecpar.fromContext(tone);
    }

    let places: typeof picture;
    if (recipe.location && !isWebm) {
      places = file.newStream();
      places.codecpar.codecType = AVMEDIA_TYPE_DATA;
      places.codecpar.codecId = AV_CODEC_ID_BIN_DATA;
      places.codecpar.codecTag = 'gpmd';
      places.timeBase = { num: 1, den: 1000 } as CodecContext['timeBase'];
    }

    const metadata = {
      ...recipe.metadata,
      ...(recipe.location ? { 'com.apple.quicktime.location.ISO6709': recipe.location } : {}),
    };
    if (Object.keys(metadata).length > 0) file.metadata = Dictionary.fromObject(metadata);

    ok(await file.openOutput(), 'open the file');
    closing.push(() => file.closeOutputSync());
    const isBoxed = /\.(mp4|mov)$/.test(path);
    const keys = Object.keys(metadata).length > 0 ? '+use_metadata_tags' : '';
    ok(
      file.writeHeaderSync(
        Dictionary.fromObject(
          isBoxed
            ? {
                movflags: `${keys}${recipe.indexFirst ? '+faststart' : ''}` || '0',
                avoid_negative_ts: 'disabled',
              }
            : {},
        ),
      ),
      'write the head of the file',
    );

    const durations = new Map<bigint, bigint>();
    const drain = (from: CodecContext, stream: NonNullable<typeof picture>) => {
      for (;;) {
        const answer = from.receivePacketSync(packet);
        if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) return;
        ok(answer, 'encode');
        packet.streamIndex = stream.index;
        // Without a duration the last picture lies outside the edit list, and readers leave it out.
        if (from === encoder) packet.duration = durations.get(packet.pts) ?? packet.duration;
        packet.rescaleTs(from.timeBase, stream.timeBase);
        ok(file.interleavedWriteFrameSync(packet), 'write a packet');
      }
    };

    let samplesDone = 0;
    const soundUpTo = (seconds: number) => {
      if (!sound || !soundHz) return;
      const size = tone.frameSize || 960;
      while (samplesDone < seconds * 48_000) {
        const wave = Buffer.alloc(size * 4);
        for (let i = 0; i < size; i++)
          wave.writeFloatLE(0.2 * Math.sin((2 * Math.PI * soundHz * (samplesDone + i)) / 48_000), i * 4);
        const frame = Frame.fromAudioBuffer(wave, {
          nbSamples: size,
          format: tone.sampleFormat,
          sampleRate: 48_000,
          channelLayout: tone.channelLayout,
          pts: BigInt(samplesDone),
        });
        ok(tone.sendFrameSync(frame), 'encode sound');
        frame.free();
        drain(tone, sound);
        samplesDone += size;
      }
    };

    const lastStep = frames > 1 ? (ticks[frames - 1] ?? 0) - (ticks[frames - 2] ?? 0) : 1;
    const seconds = ((ticks[frames - 1] ?? 0) + lastStep - start) / timescale;

    if (picture) {
      const to = hdr ? 'yuv420p10le' : isOdd ? 'yuv444p' : 'yuv420p';
      const matrix = hdr ? '2020_ncl' : '709';
      const curve = hdr === 'hlg' ? 'arib-std-b67' : hdr === 'pq' ? 'smpte2084' : '709';
      const colours = `zscale=tin=${hdr ? 'iec61966-2-1' : '709'}:pin=709:min=gbr:rin=full:t=${curve}:p=${hdr ? '2020' : '709'}:m=${matrix}:r=limited:npl=203`;
      const graph = openGraph(
        'video',
        `video_size=${width}x${height}:pix_fmt=rgba:time_base=1/${timescale}:pixel_aspect=1/1`,
        `format=gbrp,${colours},format=yuv444p${hdr ? '10le' : ''},format=${to}`,
      );
      closing.push(() => graph.close());
      const paint = recipe.paint ?? (recipe.rotation ? turnedCounter(recipe.rotation) : countingPainter);
      for (let index = 0; index < frames; index++) {
        const drawn = paint(index, { width, height });
        const frame = Frame.fromVideoBuffer(Buffer.from(drawn.buffer, drawn.byteOffset, drawn.byteLength), {
          width,
          height,
          format: AV_PIX_FMT_RGBA,
          pts: BigInt((ticks[index] ?? 0) - start),
          timeBase: { num: 1, den: timescale },
        });
        const target = picture;
        const next = ticks[index + 1] ?? (ticks[index] ?? 0) + lastStep;
        durations.set(frame.pts, BigInt(next - (ticks[index] ?? 0)));
        graph.push(frame, (converted) => {
          ok(encoder.sendFrameSync(converted), 'encode a picture');
          drain(encoder, target);
        });
        frame.free();
        soundUpTo(((ticks[index] ?? 0) - start) / timescale);
      }
      ok(encoder.sendFrameSync(null), 'finish the pictures');
      drain(encoder, picture);
    }
    soundUpTo(seconds);
    if (sound) {
      ok(tone.sendFrameSync(null), 'finish the sound');
      drain(tone, sound);
    }
    if (places && recipe.location)
      for (let ms = 0; ms < seconds * 1000; ms += 500) {
        const place = new Packet();
        place.alloc();
        place.data = Buffer.from(`GPS ${recipe.location}`);
        place.pts = BigInt(ms);
        place.dts = BigInt(ms);
        place.duration = 500n;
        place.streamIndex = places.index;
        place.rescaleTs({ num: 1, den: 1000 }, places.timeBase);
        ok(file.interleavedWriteFrameSync(place), 'write a place');
        place.free();
      }
    ok(file.writeTrailerSync(), 'write the end of the file');
  } finally {
    for (const close of closing.reverse()) close();
    file.freeContext();
  }

  const end = frames - (edit.hideLast ?? 0);
  if (edit.hideLast)
    await writeFile(path, cutEditList(await readFile(path), ((ticks[end] ?? 0) - start) / timescale));
  if (recipe.location && !recipe.indexFirst && !isWebm && !path.endsWith('.mkv'))
    await writeFile(path, addUserData(await readFile(path), recipe.location));
  const shownFrames = Array.from({ length: end - hidden }, (_, index) => index + hidden);
  return {
    path,
    timescale,
    shownFrames,
    shownTicks: shownFrames.map((frame) => (ticks[frame] ?? 0) - start),
  };
}
