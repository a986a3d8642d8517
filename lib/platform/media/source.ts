import {
  AV_DISPOSITION_ATTACHED_PIC,
  AV_CODEC_ID_VP8,
  AV_NOPTS_VALUE,
  AV_PKT_DATA_DISPLAYMATRIX,
  AV_PKT_FLAG_DISCARD,
  AVMEDIA_TYPE_AUDIO,
  AVMEDIA_TYPE_VIDEO,
} from 'node-av/constants';
import { FFmpegError, FormatContext, InputFormat, Packet, type Stream } from 'node-av/lib';
import { ticksToMicroseconds } from '@/lib/domain/clips/rendition';
import type { Family } from './intake';
import { MediaFault } from './media-fault';

export interface Source {
  file: FormatContext;
  video: Stream;
  audio: Stream | null;
  close(): void;
}

/** What the packets of the picture track tell before anything is decoded. */
export interface PacketFacts {
  /** Packets whose picture is shown. */
  shown: number;
  /** Of these, those that can be decoded for certain: not before the first key picture. */
  decodable: number;
  /** Timestamps of the shown packets, sorted, relative to the first, in microseconds. */
  ptsUs: number[];
  /** The first shown timestamp in ticks of the track. */
  firstTick: bigint;
}

/**
 * Opens a file with the demuxer of its family only: the others include playlists, which would make the engine open
 * further files. Throws a MediaFault when it cannot be read or has no picture.
 */
export function openSource(path: string, family: Family): Source {
  const file = new FormatContext();
  const close = () => file.closeInputSync();
  try {
    const format = InputFormat.findInputFormat(family === 'iso' ? 'mov' : 'matroska');
    if (!format) throw new Error('this engine lacks a demuxer');
    FFmpegError.throwIfError(file.openInputSync(path, format, null), 'open');
    FFmpegError.throwIfError(file.findStreamInfoSync(null), 'find the tracks');
  } catch (error) {
    close();
    throw new MediaFault('unreadable', error instanceof Error ? error.message : String(error));
  }
  const isPicture = (stream: Stream) =>
    stream.codecpar.codecType === AVMEDIA_TYPE_VIDEO &&
    (stream.disposition & AV_DISPOSITION_ATTACHED_PIC) === 0;
  const best = file.streams[file.findBestStream(AVMEDIA_TYPE_VIDEO)];
  const video = best && isPicture(best) ? best : file.streams.find(isPicture);
  if (!video) {
    const hasSound = file.streams.some((stream) => stream.codecpar.codecType === AVMEDIA_TYPE_AUDIO);
    close();
    throw new MediaFault(hasSound ? 'no-picture' : 'unreadable', 'no picture track');
  }
  if (video.timeBase.num <= 0 || video.timeBase.den <= 0) {
    close();
    throw new MediaFault('unreadable', 'the picture track has no clock');
  }
  return { file, video, audio: file.streams[file.findBestStream(AVMEDIA_TYPE_AUDIO)] ?? null, close };
}

/** Reads all packets of the picture track once. `alive` is called now and then, so that the reader is seen to work. */
export async function readPackets(source: Source, alive: () => Promise<void>): Promise<PacketFacts> {
  const { file, video } = source;
  const isVp8 = video.codecpar.codecId === AV_CODEC_ID_VP8;
  const packet = new Packet();
  packet.alloc();
  const ticks: bigint[] = [];
  let firstKey: bigint | null = null;
  let early = 0;
  let count = 0;
  try {
    while (file.readFrameSync(packet) >= 0) {
      // VP8 carries pictures that are only referred to; the show_frame bit tells them (RFC 6386, 9.1).
      const isHidden =
        (packet.flags & AV_PKT_FLAG_DISCARD) !== 0 || (isVp8 && ((packet.data?.[0] ?? 0) & 0x10) === 0);
      if (packet.streamIndex === video.index && packet.size > 0) {
        const tick = packet.pts === AV_NOPTS_VALUE ? packet.dts : packet.pts;
        if (packet.isKeyframe) firstKey ??= tick;
        if (!isHidden) {
          if (firstKey === null || tick < firstKey) early++;
          ticks.push(tick);
        }
      }
      packet.unref();
      if (++count % 256 === 0) await alive();
    }
  } finally {
    packet.free();
  }
  if (ticks.length === 0) throw new MediaFault('unreadable', 'no picture in the picture track');
  const sorted = ticks.filter((tick) => tick !== AV_NOPTS_VALUE).sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  const firstTick = sorted[0] ?? 0n;
  const base = { num: video.timeBase.num, den: video.timeBase.den };
  return {
    shown: ticks.length,
    decodable: firstKey === null ? 0 : ticks.length - early,
    ptsUs: sorted.map((tick) => ticksToMicroseconds(tick - firstTick, base)),
    firstTick,
  };
}

/** What phones wrote about the file and its picture track, keys and values. */
export function metadataOf({ file, video }: Source): Record<string, string> {
  return { ...video.metadata?.getAll(), ...file.metadata?.getAll() };
}

/** How a picture has to be turned and mirrored to stand upright, in the engine's filter names; empty: not at all. */
export function uprightFilters({ video }: Source): { filters: string[]; isQuarterTurn: boolean } {
  const matrix = video.codecpar.getCodedSideData(AV_PKT_DATA_DISPLAYMATRIX);
  if (!matrix || matrix.length < 36) return { filters: [], isQuarterTurn: false };
  // The matrix of ISO/IEC 14496-12 (8.2.2.3): (a b; c d) maps coded to shown places, y downwards.
  const [a, b, c, d] = [0, 1, 3, 4].map((place) => matrix.readInt32LE(place * 4)) as [
    number,
    number,
    number,
    number,
  ];
  const isQuarterTurn = Math.abs(b) > Math.abs(a);
  if (!isQuarterTurn)
    return { filters: [...(a < 0 ? ['hflip'] : []), ...(d < 0 ? ['vflip'] : [])], isQuarterTurn };
  const direction = b > 0 ? (c < 0 ? 'clock' : 'cclock_flip') : c > 0 ? 'cclock' : 'clock_flip';
  return { filters: [`transpose=${direction}`], isQuarterTurn };
}
