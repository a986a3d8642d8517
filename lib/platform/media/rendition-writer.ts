import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_PIX_FMT_YUV420P,
  AV_SAMPLE_FMT_FLTP,
  AVCOL_PRI_BT709,
  AVCOL_RANGE_MPEG,
  AVCOL_SPC_BT709,
  AVCOL_TRC_BT709,
  AVERROR_EAGAIN,
  AVERROR_EOF,
} from 'node-av/constants';
import {
  type CodecContext,
  Dictionary,
  FFmpegError,
  FormatContext,
  Packet,
  Rational,
  type Frame,
  type Stream,
} from 'node-av/lib';
import { openEncoder } from './encoder';

const ok = (code: number, what: string) => FFmpegError.throwIfError(code, what);

export interface RenditionShape {
  width: number;
  height: number;
  /** Clock of the picture track; frames are given in its ticks. */
  timeBase: { num: number; den: number };
  rate: number;
  keyFrameDistance: number;
  hasSound: boolean;
}

export interface RenditionWriter {
  /** Encodes a picture. `tick` rises from one to the next; the frame may be used again afterwards. */
  picture(frame: Frame, tick: bigint): void;
  /** Encodes 48 kHz mono sound whose pts count samples from the first picture. */
  sound(frame: Frame): void;
  /** Writes what is left and the index at the front. `lastDuration` in ticks. */
  finish(lastDuration: bigint): void;
  close(): void;
}

/** Opens an MP4 with H.264 High pictures and, if asked for, AAC mono sound: the review rendition. No other data goes in. */
export function openRendition(path: string, shape: RenditionShape): RenditionWriter {
  const file = new FormatContext();
  ok(file.allocOutputContext2(null, 'mp4', path), 'choose the container');
  const closing: (() => void)[] = [() => file.freeContext()];
  const close = () => {
    for (const one of closing.splice(0).reverse()) one();
  };
  try {
    const pictures = openEncoder(
      'libx264',
      (encoder) => {
        encoder.width = shape.width;
        encoder.height = shape.height;
        encoder.pixelFormat = AV_PIX_FMT_YUV420P;
        encoder.timeBase = new Rational(shape.timeBase.num, shape.timeBase.den);
        // The level is chosen by the rate; from the clock alone it would be one that no phone plays.
        encoder.framerate = new Rational(Math.max(1, Math.round(shape.rate * 1000)), 1000);
        encoder.gopSize = shape.keyFrameDistance;
        encoder.maxBFrames = 0;
        encoder.threadCount = 2;
        encoder.colorRange = AVCOL_RANGE_MPEG;
        encoder.colorSpace = AVCOL_SPC_BT709;
        encoder.colorPrimaries = AVCOL_PRI_BT709;
        encoder.colorTrc = AVCOL_TRC_BT709;
      },
      { preset: 'veryfast', crf: '23', profile: 'high', 'x264-params': 'scenecut=0' },
    );
    closing.push(() => pictures.freeContext());
    const track = file.newStream();
    track.timeBase = pictures.timeBase;
    ok(track.codecpar.fromContext(pictures), 'describe the pictures');

    let sounds: CodecContext | undefined;
    let soundTrack: Stream | undefined;
    if (shape.hasSound) {
      sounds = openEncoder(
        'aac',
        (encoder) => {
          encoder.sampleRate = 48_000;
          encoder.sampleFormat = AV_SAMPLE_FMT_FLTP;
          encoder.channelLayout = { nbChannels: 1, order: AV_CHANNEL_ORDER_NATIVE, mask: 4n };
          encoder.timeBase = new Rational(1, 48_000);
          encoder.bitRate = 96_000n;
        },
        {},
      );
      const opened = sounds;
      closing.push(() => opened.freeContext());
      soundTrack = file.newStream();
      soundTrack.timeBase = sounds.timeBase;
      ok(soundTrack.codecpar.fromContext(sounds), 'describe the sound');
    }

    ok(file.openOutputSync(), 'open the rendition');
    closing.push(() => file.closeOutputSync());
    ok(file.writeHeaderSync(Dictionary.fromObject({ movflags: '+faststart', fflags: '+bitexact' })), 'begin');

    const packet = new Packet();
    packet.alloc();
    closing.push(() => packet.free());

    // A picture's duration is known when the next one comes; without it readers leave the last picture out.
    const durations = new Map<bigint, bigint>();
    const drain = (from: CodecContext, to: Stream, durationOf?: (tick: bigint) => bigint | undefined) => {
      for (;;) {
        const answer = from.receivePacketSync(packet);
        if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) return;
        ok(answer, 'encode');
        packet.streamIndex = to.index;
        packet.duration = durationOf?.(packet.pts) ?? packet.duration;
        packet.rescaleTs(from.timeBase, to.timeBase);
        ok(file.interleavedWriteFrameSync(packet), 'write');
      }
    };
    const takeDuration = (tick: bigint) => {
      const duration = durations.get(tick);
      durations.delete(tick);
      return duration;
    };
    let before: bigint | null = null;

    return {
      picture(frame, tick) {
        if (before !== null) durations.set(before, tick - before);
        drain(pictures, track, takeDuration);
        before = tick;
        frame.pts = tick;
        frame.pictType = 0 as Frame['pictType'];
        ok(pictures.sendFrameSync(frame), 'encode a picture');
      },
      sound(frame) {
        if (!sounds || !soundTrack) return;
        ok(sounds.sendFrameSync(frame), 'encode sound');
        drain(sounds, soundTrack);
      },
      finish(lastDuration) {
        if (before !== null) durations.set(before, lastDuration);
        ok(pictures.sendFrameSync(null), 'finish the pictures');
        drain(pictures, track, takeDuration);
        if (sounds && soundTrack) {
          ok(sounds.sendFrameSync(null), 'finish the sound');
          drain(sounds, soundTrack);
        }
        ok(file.writeTrailerSync(), 'finish the rendition');
      },
      close,
    };
  } catch (error) {
    close();
    throw error;
  }
}
