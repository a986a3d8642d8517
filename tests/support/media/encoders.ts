import { Codec, FFmpegError, type CodecContext } from 'node-av/lib';
import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_CODEC_FLAG_GLOBAL_HEADER,
  AV_OPT_SEARCH_CHILDREN,
  AV_OPT_TYPE_STRING,
  AV_PIX_FMT_YUV420P,
  AV_PIX_FMT_YUV420P10LE,
  AV_PIX_FMT_YUV444P,
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
  type FFEncoderCodec,
} from 'node-av/constants';
import type { ClipRecipe } from './make-clip';

export type CodecName = 'h264' | 'hevc' | 'vp9' | 'av1' | 'mpeg4';

const ENCODERS = {
  h264: 'libx264',
  hevc: 'libx265',
  vp9: 'libvpx-vp9',
  av1: 'libsvtav1',
  mpeg4: 'mpeg4',
} satisfies Record<CodecName, string>;

const ok = (code: number, what: string) => FFmpegError.throwIfError(code, what);

/** The 3x3 matrix of ISO/IEC 14496-12 (8.2.2) in the engine's memory layout, for a clockwise turn. */
export function displayMatrix(rotation: number): Buffer {
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

/** Opens the encoder of the recipe's pictures. Throws when the engine has none. */
export function openPictures(
  encoder: CodecContext,
  recipe: ClipRecipe,
  shape: { codec: CodecName; width: number; height: number; timescale: number; isOdd: boolean },
): void {
  const { codec, width, height, timescale, isOdd } = shape;
  const { hdr, rate = { num: 30, den: 1 } } = recipe;
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
            ? { preset: '8', crf, 'svtav1-params': 'pred-struct=1:enable-tf=0:scd=0' }
            : {};
  // Not handed to `open2Sync`: this binding frees that dictionary twice.
  for (const [key, value] of Object.entries(options))
    ok(encoder.setOption(key, value, AV_OPT_TYPE_STRING, AV_OPT_SEARCH_CHILDREN), `set ${key}`);
  ok(encoder.open2Sync(found, null), 'open the picture encoder');
}

/** Opens the encoder of the sine tone: Opus for WebM, AAC elsewhere. */
export function openTone(tone: CodecContext, isWebm: boolean): void {
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
}
