import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { AV_NOPTS_VALUE } from 'node-av/constants';
import { Frame, Packet, type Stream } from 'node-av/lib';
import {
  keyFrameDistance,
  medianRate,
  renditionSize,
  risingTick,
  ticksToMicroseconds,
} from '@/lib/domain/clips/rendition';
import { decode, openDecoder } from './decoder';
import { openGraph, type Graph } from './filter-graph';
import { frameKind, pictureChain, pictureSource, SOUND_CHAIN } from './filters';
import { MediaFault } from './media-fault';
import { openRendition, type RenditionWriter } from './rendition-writer';
import { uprightFilters, type PacketFacts, type Source } from './source';
import { collectStills } from './still-pictures';

const CLOCK_AT_MOST = 1_000_000;
const WAITING_AT_MOST = 2000;

export interface Rendered {
  width: number;
  height: number;
  frames: number;
  hasSound: boolean;
}

/** The sound of the source on its way into the rendition. Trouble with it ends the sound, never the clip. */
function openSound(stream: Stream, firstPicture: { tick: bigint; base: { num: number; den: number } }) {
  const decoder = openDecoder(stream);
  const { num, den } = stream.timeBase;
  const shift =
    (firstPicture.tick * BigInt(firstPicture.base.num) * BigInt(den)) /
    (BigInt(firstPicture.base.den) * BigInt(num));
  let graph: Graph | undefined;
  let kind = '';
  let isOver = false;
  const frame = new Frame();
  frame.alloc();
  return {
    push(packet: Packet | null, writer: RenditionWriter) {
      if (isOver) return;
      try {
        decode(decoder, packet, frame, (heard) => {
          const layout = heard.channelLayout;
          const now = `${heard.sampleRate} ${heard.format} ${layout.nbChannels} ${layout.mask}`;
          if (heard.pts === AV_NOPTS_VALUE || heard.sampleRate <= 0) return;
          if (!graph) {
            kind = now;
            const channels = layout.mask > 0n ? `0x${layout.mask.toString(16)}` : `${layout.nbChannels}c`;
            graph = openGraph(
              'audio',
              `time_base=${num}/${den}:sample_rate=${heard.sampleRate}:sample_fmt=${heard.format}:channel_layout=${channels}`,
              SOUND_CHAIN,
            );
          }
          if (now !== kind) return;
          heard.pts -= shift;
          graph.push(heard, (ready) => writer.sound(ready));
        });
        if (packet === null) graph?.push(null, (ready) => writer.sound(ready));
      } catch {
        isOver = true;
      }
    },
    close() {
      graph?.close();
      frame.free();
      decoder.freeContext();
    },
  };
}

/**
 * Writes review.mp4, poster.jpg, strip.jpg and strip.json into the folder, without sound when it is to be silent. Every
 * picture that the source shows is in the rendition, at its own timestamp counted from the first. Throws a MediaFault, `frames-lost` when one is missing.
 */
export async function render(
  source: Source,
  facts: PacketFacts,
  { folder, isSilent }: { folder: string; isSilent: boolean },
  report: (percent: number) => Promise<void>,
): Promise<Rendered> {
  const { file, video, audio } = source;
  const base = { num: video.timeBase.num, den: video.timeBase.den };
  // Clocks finer than a microsecond do not fit the container; nothing that is shown needs them.
  const isTooFine = base.den / base.num > CLOCK_AT_MOST;
  const clock = isTooFine ? { num: 1, den: CLOCK_AT_MOST } : base;
  const onClock = (tick: bigint) => (isTooFine ? BigInt(ticksToMicroseconds(tick, base)) : tick);
  const rate = medianRate(facts.ptsUs) ?? 30;

  const closing: (() => void)[] = [];
  try {
    const decoder = openDecoder(video);
    closing.push(() => decoder.freeContext());
    const frame = new Frame();
    frame.alloc();
    closing.push(() => frame.free());
    const packet = new Packet();
    packet.alloc();
    closing.push(() => packet.free());
    let sound: ReturnType<typeof openSound> | null = null;
    try {
      sound = !isSilent && audio ? openSound(audio, { tick: facts.firstTick, base }) : null;
      if (sound) closing.push(sound.close);
    } catch {
      sound = null;
    }

    const upright = uprightFilters(source);
    let writer: RenditionWriter | undefined;
    let stills: ReturnType<typeof collectStills> | undefined;
    let graph: Graph | undefined;
    closing.push(() => graph?.close());
    let kind = '';
    let size = { width: 0, height: 0 };
    let first: bigint | null = null;
    let tick: bigint | null = null;
    let step = 1n;
    let count = 0;

    const begin = (decoded: Frame) => {
      const { num, den } = video.sampleAspectRatio;
      const isStretched = num > 0 && den > 0 && num !== den && num / den < 4 && den / num < 4;
      const shown = { width: decoded.width * (isStretched ? num / den : 1), height: decoded.height };
      size = upright.isQuarterTurn
        ? renditionSize(shown.height, shown.width)
        : renditionSize(shown.width, shown.height);
      const opened = openRendition(path.join(folder, 'review.mp4'), {
        ...size,
        timeBase: clock,
        rate,
        keyFrameDistance: keyFrameDistance(facts.shown, rate),
        hasSound: sound !== null,
      });
      closing.push(opened.close);
      const collected = collectStills(facts.shown, size.width, size.height);
      closing.push(collected.close);
      stills = collected;
      return opened;
    };

    const take = (decoded: Frame) => {
      const out = (writer ??= begin(decoded));
      const told = decoded.bestEffortTimestamp === AV_NOPTS_VALUE ? decoded.pts : decoded.bestEffortTimestamp;
      first ??= told === AV_NOPTS_VALUE ? 0n : told;
      const wanted = told === AV_NOPTS_VALUE ? null : onClock(told - first);
      const next = risingTick(wanted, tick);
      if (tick !== null) step = next - tick;
      tick = next;
      if (kind !== frameKind(decoded)) {
        graph?.close();
        kind = frameKind(decoded);
        graph = openGraph(
          'video',
          pictureSource(decoded, clock),
          pictureChain(decoded, {
            ...size,
            uprightFilters: upright.filters,
            isQuarterTurn: upright.isQuarterTurn,
          }),
        );
      }
      decoded.pts = next;
      graph?.push(decoded, (ready) => {
        stills?.see(count, ready);
        out.picture(ready, next);
        count++;
      });
    };

    // Sound that comes before the first decoded picture waits: the rendition begins with that picture.
    const waiting: Packet[] = [];
    closing.push(() => waiting.forEach((one) => one.free()));
    const hear = (heard: Packet) => {
      if (!sound) return;
      if (writer) {
        for (const one of waiting.splice(0)) {
          sound.push(one, writer);
          one.free();
        }
        sound.push(heard, writer);
      } else if (waiting.length < WAITING_AT_MOST) {
        const kept = heard.clone();
        if (kept) waiting.push(kept);
      }
    };

    let packets = 0;
    let decodedFrames = 0;
    const counted = (decoded: Frame) => {
      decodedFrames++;
      take(decoded);
    };
    while (file.readFrameSync(packet) >= 0) {
      try {
        if (packet.streamIndex === video.index) decode(decoder, packet, frame, counted);
        else if (audio && packet.streamIndex === audio.index) hear(packet);
      } finally {
        packet.unref();
      }
      if (++packets % 4 === 0) await report((95 * count) / facts.shown);
    }
    decode(decoder, null, frame, counted);
    if (!writer || !stills || count === 0) throw new MediaFault('unreadable', 'no picture could be decoded');
    for (const one of waiting) sound?.push(one, writer);
    sound?.push(null, writer);
    writer.finish(step);

    if (decodedFrames !== count || count < facts.decodable)
      throw new MediaFault(
        'frames-lost',
        `${facts.shown} shown, ${facts.decodable} decodable, ${decodedFrames} decoded, ${count} written`,
      );
    const { poster, strip, geometry } = stills.finish();
    writeFileSync(path.join(folder, 'poster.jpg'), poster);
    writeFileSync(path.join(folder, 'strip.jpg'), strip);
    writeFileSync(path.join(folder, 'strip.json'), JSON.stringify(geometry));
    return { ...size, frames: count, hasSound: sound !== null };
  } finally {
    for (const close of closing.reverse()) close();
  }
}
