import { readFile, writeFile } from 'node:fs/promises';
import { Codec, CodecContext, Dictionary, FFmpegError, FormatContext, Frame, Log, Packet } from 'node-av/lib';
import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_CODEC_FLAG_GLOBAL_HEADER,
  AV_CODEC_ID_BIN_DATA,
  AV_LOG_ERROR,
  AV_OPT_SEARCH_CHILDREN,
  AV_OPT_TYPE_STRING,
  AV_PIX_FMT_RGBA,
  AV_PIX_FMT_YUV420P,
  AV_PIX_FMT_YUV420P10LE,
  AV_PIX_FMT_YUV444P,
  AV_PKT_DATA_DISPLAYMATRIX,
  AV_SAMPLE_FMT_FLT,
  AV_SAMPLE_FMT_FLTP,
  AVCOL_PRI_BT2020,
  AVCOL_PRI_BT709,
  AVCOL_RANGE_MPEG,
  AVCOL_SPC_BT2020_NCL,
  AVCOL_SPC_BT709,
  AVCOL_TRC_ARIB_STD_B67,
  AVCOL_TRC_BT709,
  AVCOL_TRC_SMPTE2084,
  AVERROR_EAGAIN,
  AVERROR_EOF,
  AVMEDIA_TYPE_DATA,
  type FFEncoderCodec,
} from 'node-av/constants';
import { openGraph } from '@/lib/platform/media/filter-graph';
import { addUserData, cutEditList } from './boxes';
import { paintCounter, type Pixels } from './counter';

/** Draws one frame in display order: RGBA pixels of the asked size, row by row (a canvas' ImageData fits). */
export type Painter = (
  frame: number,
  size: { width: number; height: number },
) => Uint8Array | Uint8ClampedArray;

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
  codec?: 'h264' | 'hevc' | 'vp9' | 'av1' | 'mpeg4';
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

const ENCODERS = {
  h264: 'libx264',
  hevc: 'libx265',
  vp9: 'libvpx-vp9',
  av1: 'libsvtav1',
  mpeg4: 'mpeg4',
} satisfies Record<NonNullable<ClipRecipe['codec']>, string>;

Log.setLevel(AV_LOG_ERROR);
// The AV1 encoder writes to the terminal by itself.
process.env.SVT_LOG = '1';

const ok = (code: number, what: string) => FFmpegError.throwIfError(code, what);

/** A whole picture that only carries its frame number. */
export const countingPainter: Painter = (frame, { width, height }) => {
  const pixels: Pixels = { data: new Uint8Array(width * height * 4), width, height };
  paintCounter(pixels, frame);
  return pixels.data;
};

/** The counter painted so that it stands upright after the given clockwise turn. */
export const turnedCounter =
  (rotation: 90 | 180 | 270): Painter =>
  (frame, { width, height }) => {
    const isQuarter = rotation !== 180;
    const upright: Pixels = {
      width: isQuarter ? height : width,
      height: isQuarter ? width : height,
      data: new Uint8Array(width * height * 4),
    };
    paintCounter(upright, frame);
    const coded = new Uint8Array(width * height * 4);
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const [ux, uy] =
          rotation === 90
            ? [height - 1 - y, x]
            : rotation === 180
              ? [width - 1 - x, height - 1 - y]
              : [y, width - 1 - x];
        const from = (uy * upright.width + ux) * 4;
        coded.set(upright.data.subarray(from, from + 4), (y * width + x) * 4);
      }
    return coded;
  };

/** The 3x3 matrix of ISO/IEC 14496-12 (8.2.2) in the engine's memory layout, for a clockwise turn. */
function displayMatrix(rotation: number): Buffer {
  const turn = (-rotation * Math.PI) / 180;
  const fixed = (value: number) => Math.round(value * 65536);
  const matrix = Buffer.alloc(36);
  [
    fixed(Math.cos(turn)),
    fixed(-Math.sin(turn)),
    0,
    fixed(Math.sin(turn)),
    fixed(Math.cos(turn)),
    0,
    0,
    0,
    1 << 30,
  ].forEach((value, index) => matrix.writeInt32LE(value, index * 4));
  return matrix;
}

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
      const found = Codec.findEncoderByName(ENCODERS[codec] as FFEncoderCodec);
      if (!found) throw new Error(`This engine has no encoder for ${codec}.`);
      encoder.allocContext3(found);
      encoder.width = width;
      encoder.height = height;
      encoder.pixelFormat = hdr ? AV_PIX_FMT_YUV420P10LE : isOdd ? AV_PIX_FMT_YUV444P : AV_PIX_FMT_YUV420P;
      encoder.timeBase = { num: 1, den: timescale } as CodecContext['timeBase'];
      // Without it the encoder takes 1/timescale for the rate and asks for a level that no phone plays.
      encoder.framerate = (recipe.timing ? { num: 30, den: 1 } : rate) as CodecContext['framerate'];
      encoder.gopSize = recipe.gop ?? 30;
      if (codec !== 'vp9' && codec !== 'av1') encoder.maxBFrames = recipe.bFrames ?? 0;
      encoder.colorRange = AVCOL_RANGE_MPEG;
      encoder.colorSpace = hdr ? AVCOL_SPC_BT2020_NCL : AVCOL_SPC_BT709;
      encoder.colorPrimaries = hdr ? AVCOL_PRI_BT2020 : AVCOL_PRI_BT709;
      encoder.colorTrc =
        hdr === 'hlg' ? AVCOL_TRC_ARIB_STD_B67 : hdr === 'pq' ? AVCOL_TRC_SMPTE2084 : AVCOL_TRC_BT709;
      encoder.setFlags(AV_CODEC_FLAG_GLOBAL_HEADER);
      encoder.threadCount = 2;
      if (codec === 'hevc') encoder.codecTag = 'hvc1';
      const crf = String(recipe.quality ?? 23);
      const options: Record<string, string> =
        codec === 'h264'
          ? { preset: 'veryfast', crf, 'x264-params': 'scenecut=0:b-adapt=0' }
          : codec === 'hevc'
            ? {
                preset: 'ultrafast',
                crf,
                'x265-params': `log-level=none:scenecut=0:b-adapt=0:bframes=${recipe.bFrames ?? 0}`,
              }
            : codec === 'vp9'
              ? { deadline: 'realtime', 'cpu-used': '8', crf, b: '0' }
              : codec === 'av1'
                ? { preset: '12', crf }
                : {};
      // Not handed to `open2Sync`: this binding frees that dictionary twice.
      for (const [key, value] of Object.entries(options))
        ok(encoder.setOption(key, value, AV_OPT_TYPE_STRING, AV_OPT_SEARCH_CHILDREN), `set ${key}`);
      ok(encoder.open2Sync(found, null), 'open the picture encoder');
      picture = file.newStream();
      picture.timeBase = encoder.timeBase;
      picture.codecpar.fromContext(encoder);
      if (recipe.rotation)
        picture.codecpar.addCodedSideData(AV_PKT_DATA_DISPLAYMATRIX, displayMatrix(recipe.rotation));
    }

    const soundHz = recipe.soundOnly ? recipe.sound || 440 : recipe.sound;
    let sound: typeof picture;
    if (soundHz) {
      const found = Codec.findEncoderByName((isWebm ? 'libopus' : 'aac') as FFEncoderCodec);
      if (!found) throw new Error('This engine has no sound encoder.');
      tone.allocContext3(found);
      tone.sampleRate = 48_000;
      tone.sampleFormat = isWebm ? AV_SAMPLE_FMT_FLT : AV_SAMPLE_FMT_FLTP;
      tone.channelLayout = { nbChannels: 1, order: AV_CHANNEL_ORDER_NATIVE, mask: 4n };
      tone.timeBase = { num: 1, den: 48_000 } as CodecContext['timeBase'];
      tone.bitRate = 64_000n;
      tone.setFlags(AV_CODEC_FLAG_GLOBAL_HEADER);
      ok(tone.open2Sync(found, null), 'open the sound encoder');
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
