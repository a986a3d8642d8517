import { readFile } from 'node:fs/promises';
import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_SAMPLE_FMT_FLT,
  AV_SAMPLE_FMT_FLTP,
  AVERROR_EAGAIN,
  AVERROR_EOF,
} from 'node-av/constants';
import { Dictionary, FFmpegError, FormatContext, Frame, Packet, Rational } from 'node-av/lib';
import { openEncoder } from '@/lib/platform/media/encoder';

const RATE = 48_000;
const CLOCK = { num: 1, den: RATE };
const MONO = { nbChannels: 1, order: AV_CHANNEL_ORDER_NATIVE, mask: 4n };
const ok = (code: number) => FFmpegError.throwIfError(code, 'make a voice');

// As recorders of browsers write them: no length, no index, in fragments that may end anywhere.
const KINDS = {
  'audio/webm': {
    container: 'webm',
    codec: 'libopus',
    format: AV_SAMPLE_FMT_FLT,
    options: { live: '1', cluster_time_limit: '1000' },
  },
  'audio/mp4': {
    container: 'mp4',
    codec: 'aac',
    format: AV_SAMPLE_FMT_FLTP,
    options: { movflags: 'empty_moov+default_base_moof+frag_keyframe', frag_duration: '1000000' },
  },
} as const;

/** The pitch of a tone that tells its second: 400 Hz in the first, 600 Hz in the second, and so on. */
export const pitchAt = (seconds: number): number => 400 + 200 * Math.floor(seconds);

/** A recorder's stream of so many seconds, a known pitch in each. */
export async function makeVoice(
  path: string,
  type: keyof typeof KINDS,
  seconds: number,
  startPitch = 0,
): Promise<Buffer> {
  const { container, codec, format, options } = KINDS[type];
  const encoder = openEncoder(
    codec,
    (one) => {
      one.sampleRate = RATE;
      one.sampleFormat = format;
      one.channelLayout = MONO;
      one.timeBase = new Rational(CLOCK.num, CLOCK.den);
      one.bitRate = 24_000n;
    },
    {},
  );
  const file = new FormatContext();
  ok(file.allocOutputContext2(null, container, path));
  const track = file.newStream();
  track.timeBase = new Rational(CLOCK.num, CLOCK.den);
  ok(track.codecpar.fromContext(encoder));
  ok(file.openOutputSync());
  ok(file.writeHeaderSync(Dictionary.fromObject(options)));
  const packet = new Packet();
  packet.alloc();
  const drain = () => {
    for (;;) {
      const answer = encoder.receivePacketSync(packet);
      if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) return;
      ok(answer);
      packet.streamIndex = track.index;
      packet.rescaleTs(CLOCK, track.timeBase);
      ok(file.interleavedWriteFrameSync(packet));
      packet.unref();
    }
  };
  const size = encoder.frameSize;
  const total = Math.round(seconds * RATE);
  for (let at = 0; at < total; at += size) {
    const samples = Float32Array.from({ length: size }, (_, n) => {
      const t = (at + n) / RATE;
      return at + n < total ? 0.4 * Math.sin(2 * Math.PI * (pitchAt(t) + startPitch) * t) : 0;
    });
    const frame = Frame.fromAudioBuffer(Buffer.from(samples.buffer), {
      ...{ nbSamples: size, format, sampleRate: RATE, channelLayout: MONO, timeBase: CLOCK, pts: BigInt(at) },
    });
    ok(encoder.sendFrameSync(frame));
    frame.free();
    drain();
  }
  ok(encoder.sendFrameSync(null));
  drain();
  ok(file.writeTrailerSync());
  packet.free();
  file.closeOutputSync();
  file.freeContext();
  encoder.freeContext();
  return readFile(path);
}

/** The pitch of a stretch of sound by its crossings of zero upwards, in Hz; 0 for silence. */
export function pitchOf(samples: Float32Array, fromMs: number, toMs: number): number {
  const part = samples.subarray(Math.round((fromMs * RATE) / 1000), Math.round((toMs * RATE) / 1000));
  const loudest = part.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
  if (loudest < 0.02) return 0;
  let crossings = 0;
  for (let at = 1; at < part.length; at++) if ((part[at - 1] ?? 0) < 0 && (part[at] ?? 0) >= 0) crossings++;
  return (crossings * RATE) / part.length;
}
