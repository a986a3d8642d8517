import { AV_CODEC_ID_OPUS, AV_NOPTS_VALUE, AVMEDIA_TYPE_AUDIO } from 'node-av/constants';
import { FFmpegError, FormatContext, Frame, InputFormat, Packet, type Stream } from 'node-av/lib';
import { decode, openDecoder } from './decoder';
import { openGraph, type Graph } from './filter-graph';
import { OPUS_RATE, opusSamples } from './opus-packets';

/** Sound as it is worked on here: mono, 48,000 samples a second, 32-bit floats. */
export const VOICE_RATE = 48_000;

/** An Opus packet and where it begins, in samples at 48 kHz from the first packet of its take. */
export interface VoicePacket {
  at: number;
  samples: number;
  bytes: Buffer;
}

/** The voice of one run of a recorder, as far as it can be read. */
export interface VoiceTake {
  /** Of every packet when it is Opus, else null. */
  opus: VoicePacket[] | null;
  /** In milliseconds. */
  durationMs: number;
  track: Stream;
  /** All of it as samples; packets that cannot be decoded are silent. */
  samples(): Float32Array;
  close(): void;
}

const openTrack = (path: string, demuxer: 'matroska' | 'mov') => {
  const file = new FormatContext();
  try {
    const format = InputFormat.findInputFormat(demuxer);
    if (!format) throw new Error('this engine lacks a demuxer');
    FFmpegError.throwIfError(file.openInputSync(path, format, null), 'open');
    FFmpegError.throwIfError(file.findStreamInfoSync(null), 'find the tracks');
    const track = file.streams.find((stream) => stream.codecpar.codecType === AVMEDIA_TYPE_AUDIO);
    if (!track || track.timeBase.num <= 0 || track.timeBase.den <= 0) throw new Error('no sound track');
    return { file, track };
  } catch (error) {
    file.closeInputSync();
    throw error;
  }
};

/**
 * Opens the joined bytes of a take: WebM or fragmented MP4, as recorders of browsers write them, with nothing but the
 * demuxer of that family. A file that was cut off gives what comes before the cut. Null when nothing can be read.
 */
export function openVoice(path: string, type: 'audio/webm' | 'audio/mp4'): VoiceTake | null {
  let opened;
  try {
    opened = openTrack(path, type === 'audio/webm' ? 'matroska' : 'mov');
  } catch {
    return null;
  }
  const { file, track } = opened;
  const packets: Packet[] = [];
  const close = () => {
    for (const packet of packets) packet.free();
    file.closeInputSync();
  };
  const one = new Packet();
  one.alloc();
  try {
    while (file.readFrameSync(one) >= 0) {
      const kept = one.streamIndex === track.index && one.size > 0 ? one.clone() : null;
      if (kept) packets.push(kept);
      one.unref();
    }
  } finally {
    one.free();
  }
  const { num, den } = track.timeBase;
  const toSamples = (ticks: bigint) => Math.round((Number(ticks) * num * VOICE_RATE) / den);
  const first = packets.find((packet) => packet.pts !== AV_NOPTS_VALUE)?.pts ?? 0n;
  const isOpus = track.codecpar.codecId === AV_CODEC_ID_OPUS;
  const spans = packets.flatMap((packet) => {
    const bytes = packet.data;
    if (!bytes || packet.pts === AV_NOPTS_VALUE) return [];
    const samples = isOpus ? opusSamples(bytes) : toSamples(packet.duration);
    return samples > 0 ? [{ at: toSamples(packet.pts - first), samples, bytes: Buffer.from(bytes) }] : [];
  });
  const last = spans.at(-1);
  if (!last) {
    close();
    return null;
  }
  const durationMs = ((last.at + last.samples) * 1000) / OPUS_RATE;
  return {
    opus: isOpus ? spans : null,
    durationMs,
    track,
    close,
    samples: () => decodeAll(track, packets, Math.ceil((durationMs * VOICE_RATE) / 1000), first),
  };
}

function decodeAll(track: Stream, packets: readonly Packet[], total: number, first: bigint): Float32Array {
  const all = new Float32Array(total);
  const { num, den } = track.timeBase;
  const decoder = openDecoder(track);
  const frame = new Frame();
  frame.alloc();
  let graph: Graph | undefined;
  let written = 0;
  const keep = (ready: Frame) => {
    const bytes = ready.data?.[0];
    if (!bytes) return;
    const count = Math.min(ready.nbSamples, total - written);
    for (let at = 0; at < count; at++) all[written + at] = bytes.readFloatLE(at * 4);
    written += Math.max(0, count);
  };
  try {
    const hear = (heard: Frame) => {
      if (heard.pts === AV_NOPTS_VALUE || heard.sampleRate <= 0) return;
      if (!graph) {
        const layout = heard.channelLayout;
        const channels = layout.mask > 0n ? `0x${layout.mask.toString(16)}` : `${layout.nbChannels}c`;
        graph = openGraph(
          'audio',
          `time_base=${num}/${den}:sample_rate=${heard.sampleRate}:sample_fmt=${heard.format}:channel_layout=${channels}`,
          'aresample=48000:async=1:first_pts=0,aformat=sample_fmts=flt:sample_rates=48000:channel_layouts=mono',
        );
      }
      heard.pts -= first;
      graph.push(heard, keep);
    };
    for (const packet of packets) decode(decoder, packet, frame, hear);
    decode(decoder, null, frame, hear);
    graph?.push(null, keep);
    return all;
  } finally {
    graph?.close();
    frame.free();
    decoder.freeContext();
  }
}
