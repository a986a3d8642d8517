import {
  AV_CODEC_FLAG_OUTPUT_CORRUPT,
  AV_OPT_SEARCH_CHILDREN,
  AV_OPT_TYPE_STRING,
  AVERROR_EAGAIN,
  AVERROR_EOF,
  AVMEDIA_TYPE_AUDIO,
} from 'node-av/constants';
import { Codec, CodecContext, FFmpegError, type Frame, type Packet, type Stream } from 'node-av/lib';
import { MediaFault } from './media-fault';

/** No phone films larger pictures; a file that claims them would only eat the memory. */
const PIXELS_AT_MOST = 45_000_000;

/** Opens the decoder of a track. Throws a MediaFault, `unreadable`, when there is none for it. */
export function openDecoder(stream: Stream): CodecContext {
  const codec = Codec.findDecoder(stream.codecpar.codecId);
  if (!codec) throw new MediaFault('unreadable', `no decoder for ${stream.codecpar.codecId}`);
  const decoder = new CodecContext();
  decoder.allocContext3(codec);
  try {
    FFmpegError.throwIfError(decoder.parametersToContext(stream.codecpar), 'describe the track');
    decoder.pktTimebase = stream.timeBase;
    decoder.threadCount = 2;
    if (stream.codecpar.codecType !== AVMEDIA_TYPE_AUDIO) {
      // A picture with faults still has its place in the order: every frame that is shown is kept.
      decoder.setFlags(AV_CODEC_FLAG_OUTPUT_CORRUPT);
      decoder.setOption('max_pixels', String(PIXELS_AT_MOST), AV_OPT_TYPE_STRING, AV_OPT_SEARCH_CHILDREN);
    }
    FFmpegError.throwIfError(decoder.open2Sync(codec, null), 'open the decoder');
    return decoder;
  } catch (error) {
    decoder.freeContext();
    throw new MediaFault('unreadable', error instanceof Error ? error.message : String(error));
  }
}

/** Gives every decoded frame of a packet (null: of the rest) to `take`. Packets that cannot be decoded are left out. */
export function decode(
  decoder: CodecContext,
  packet: Packet | null,
  frame: Frame,
  take: (frame: Frame) => void,
): void {
  let isSent = false;
  while (!isSent) {
    const sent = decoder.sendPacketSync(packet);
    isSent = sent !== AVERROR_EAGAIN;
    for (let errors = 0; errors < 64;) {
      const answer = decoder.receiveFrameSync(frame);
      if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) break;
      if (answer < 0) {
        errors++;
        continue;
      }
      try {
        take(frame);
      } finally {
        frame.unref();
      }
    }
  }
}
