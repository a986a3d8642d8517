import { Codec, CodecContext, FFmpegError, FormatContext, Frame, Packet } from 'node-av/lib';
import { AVERROR_EAGAIN, AVERROR_EOF, AVMEDIA_TYPE_VIDEO } from 'node-av/constants';
import { openGraph, type Graph } from '@/lib/platform/media/filter-graph';
import { readCounter, WHOLE, type CounterArea } from './counter';

export interface ReadFrame {
  /** Ticks of 1/timescale seconds, as the file tells. */
  ticks: number;
  /** The burnt-in number, or null when none stands upright in the picture. */
  counter: number | null;
  width: number;
  height: number;
}

/**
 * Decodes every frame that the file shows, in display order and without applying a display matrix, and reads the
 * burnt-in counters. `timescale` is the denominator of the track's clock.
 */
export async function readBack(
  path: string,
  area: CounterArea = WHOLE,
): Promise<{ timeBase: { num: number; den: number }; frames: ReadFrame[]; keyPackets: number[] }> {
  const file = new FormatContext();
  const decoder = new CodecContext();
  const packet = new Packet();
  const frame = new Frame();
  packet.alloc();
  frame.alloc();
  let graph: Graph | undefined;
  try {
    FFmpegError.throwIfError(await file.openInput(path), 'open');
    FFmpegError.throwIfError(await file.findStreamInfo(), 'look into');
    const index = file.findBestStream(AVMEDIA_TYPE_VIDEO);
    const stream = file.streams[index];
    const codec = stream && Codec.findDecoder(stream.codecpar.codecId);
    if (!stream || !codec) throw new Error('No picture to read back.');
    decoder.allocContext3(codec);
    FFmpegError.throwIfError(decoder.parametersToContext(stream.codecpar), 'describe');
    FFmpegError.throwIfError(decoder.open2Sync(codec, null), 'open the decoder');
    const timeBase = { num: stream.timeBase.num, den: stream.timeBase.den };
    const frames: ReadFrame[] = [];
    const keyPackets: number[] = [];
    let shown = 0;

    const drain = () => {
      for (;;) {
        const answer = decoder.receiveFrameSync(frame);
        if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) return;
        FFmpegError.throwIfError(answer, 'decode');
        const { width, height, format } = frame;
        graph ??= openGraph(
          'video',
          `video_size=${width}x${height}:pix_fmt=${format}:time_base=${timeBase.num}/${timeBase.den}:pixel_aspect=1/1`,
          'format=rgba',
        );
        const ticks = Number(frame.bestEffortTimestamp);
        graph.push(frame, (rgba) => {
          const counter = readCounter({ data: rgba.toBuffer(), width, height }, area);
          frames.push({ ticks, counter, width, height });
        });
        frame.unref();
      }
    };
    while ((await file.readFrame(packet)) >= 0) {
      if (packet.streamIndex === index) {
        if (packet.isKeyframe) keyPackets.push(shown);
        shown += 1;
        FFmpegError.throwIfError(decoder.sendPacketSync(packet), 'decode');
        drain();
      }
      packet.unref();
    }
    FFmpegError.throwIfError(decoder.sendPacketSync(null), 'finish');
    drain();
    return { timeBase, frames, keyPackets };
  } finally {
    graph?.close();
    frame.free();
    packet.free();
    decoder.freeContext();
    await file.closeInput();
  }
}
