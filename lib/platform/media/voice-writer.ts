import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_SAMPLE_FMT_FLT,
  AV_SAMPLE_FMT_FLTP,
  AVERROR_EAGAIN,
  AVERROR_EOF,
} from 'node-av/constants';
import {
  Dictionary,
  FFmpegError,
  FormatContext,
  Frame,
  Packet,
  Rational,
  type CodecContext,
  type Stream,
} from 'node-av/lib';
import { openEncoder } from './encoder';
import { VOICE_RATE, type VoicePacket } from './voice-take';

const ok = (code: number, what: string) => FFmpegError.throwIfError(code, what);
const MONO = { nbChannels: 1, order: AV_CHANNEL_ORDER_NATIVE, mask: 4n };
const CLOCK = { num: 1, den: VOICE_RATE };

/** A container with one track of sound. `describe` fills in the track; the index of a whole file makes it seekable. */
const writeFile = (
  path: string,
  container: 'webm' | 'mp4',
  describe: (track: Stream) => void,
  write: (put: (packet: Packet) => void) => void,
): void => {
  const file = new FormatContext();
  ok(file.allocOutputContext2(null, container, path), 'choose the container');
  const closing: (() => void)[] = [() => file.freeContext()];
  try {
    const track = file.newStream();
    track.timeBase = new Rational(CLOCK.num, CLOCK.den);
    describe(track);
    ok(file.openOutputSync(), 'open the voice');
    closing.push(() => file.closeOutputSync());
    const options: Record<string, string> =
      container === 'mp4'
        ? { movflags: '+faststart', fflags: '+bitexact' }
        : { fflags: '+bitexact', cues_to_front: '1' };
    ok(file.writeHeaderSync(Dictionary.fromObject(options)), 'begin');
    write((packet) => {
      packet.streamIndex = track.index;
      packet.rescaleTs(CLOCK, track.timeBase);
      ok(file.interleavedWriteFrameSync(packet), 'write');
    });
    ok(file.writeTrailerSync(), 'finish the voice');
  } finally {
    for (const close of closing.reverse()) close();
  }
};

/** Writes Opus packets as they are into a WebM with length and index. `like` is a track that describes them. */
export function writeOpus(path: string, packets: readonly VoicePacket[], like: Stream): void {
  writeFile(
    path,
    'webm',
    (track) => ok(like.codecpar.copy(track.codecpar), 'describe the sound'),
    (put) => {
      const packet = new Packet();
      packet.alloc();
      try {
        for (const { at, samples, bytes } of packets) {
          packet.data = bytes;
          packet.pts = BigInt(at);
          packet.dts = BigInt(at);
          packet.duration = BigInt(samples);
          packet.isKeyframe = true;
          put(packet);
          packet.unref();
        }
      } finally {
        packet.free();
      }
    },
  );
}

const ENCODERS = {
  opus: { name: 'libopus', container: 'webm', format: AV_SAMPLE_FMT_FLT, bitRate: 32_000n },
  aac: { name: 'aac', container: 'mp4', format: AV_SAMPLE_FMT_FLTP, bitRate: 64_000n },
} as const;

/** Encodes mono sound of 48,000 samples a second: Opus at 32 kbit/s in WebM, or AAC at 64 kbit/s in MP4. */
export function encodeVoice(
  path: string,
  samples: Float32Array,
  codec: keyof typeof ENCODERS,
  alive: () => void = () => {},
): void {
  const { name, container, format, bitRate } = ENCODERS[codec];
  const encoder = openEncoder(
    name,
    (one) => {
      one.sampleRate = VOICE_RATE;
      one.sampleFormat = format;
      one.channelLayout = MONO;
      one.timeBase = new Rational(CLOCK.num, CLOCK.den);
      one.bitRate = bitRate;
    },
    {},
  );
  try {
    writeFile(
      path,
      container,
      (track) => ok(track.codecpar.fromContext(encoder), 'describe the sound'),
      (put) => {
        const size = encoder.frameSize;
        for (let at = 0; at < samples.length; at += size) {
          const part = new Float32Array(size);
          part.set(samples.subarray(at, at + size));
          const frame = Frame.fromAudioBuffer(Buffer.from(part.buffer), {
            ...{ nbSamples: size, format, sampleRate: VOICE_RATE, channelLayout: MONO },
            ...{ timeBase: CLOCK, pts: BigInt(at) },
          });
          try {
            ok(encoder.sendFrameSync(frame), 'encode sound');
          } finally {
            frame.free();
          }
          drain(encoder, put);
          alive();
        }
        ok(encoder.sendFrameSync(null), 'finish the sound');
        drain(encoder, put);
      },
    );
  } finally {
    encoder.freeContext();
  }
}

function drain(encoder: CodecContext, put: (packet: Packet) => void): void {
  const packet = new Packet();
  packet.alloc();
  try {
    for (;;) {
      const answer = encoder.receivePacketSync(packet);
      if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) return;
      ok(answer, 'encode');
      put(packet);
      packet.unref();
    }
  } finally {
    packet.free();
  }
}
