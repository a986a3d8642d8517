import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_PIX_FMT_RGBA,
  AV_SAMPLE_FMT_FLTP,
  AVSEEK_FLAG_BACKWARD,
} from 'node-av/constants';
import { FFmpegError, Frame, Packet } from 'node-av/lib';
import { addCaptionTrack } from './caption-track';
import { decode, openDecoder } from './decoder';
import { openGraph, type Graph } from './filter-graph';
import { frameKind, pictureSource } from './filters';
import { MediaFault } from './media-fault';
import { filmPlanSchema, type FilmJob, type FilmPlanFile } from './messages';
import { openRendition, type RenditionWriter } from './rendition-writer';
import { openSource, readPackets } from './source';
import { openVoice, VOICE_RATE } from './voice-take';

type Layer = FilmPlanFile['pictures'][number]['layers'][number];

const NIGHT = Buffer.from([0x12, 0x18, 0x1a, 0xff]);
/** Players do not like pictures that stand for longer. */
const REPEAT_MS = 500;
const SOUND_FRAME = 1024;
/** Further ahead than this a seek is quicker than decoding on. */
const AHEAD = 12;

const fontsFolder = (): string =>
  path.join(
    path.dirname(createRequire(import.meta.url).resolve('@fontsource/atkinson-hyperlegible/package.json')),
    'files',
  );
/** A path as an option of a filter: what the notation uses for itself is escaped twice. */
const inFilter = (file: string): string =>
  file
    .split(path.sep)
    .join('/')
    .replace(/[\\':,;[\]]/g, (one) => `\\\\\\${one}`);

/** The frames of a rendition by display index, decoded as they are asked for. */
const openClip = async (file: string, alive: () => Promise<void>) => {
  const scan = openSource(file, 'iso');
  let facts;
  try {
    facts = await readPackets(scan, alive);
  } finally {
    scan.close();
  }
  const source = openSource(file, 'iso');
  const decoder = openDecoder(source.video);
  const base = source.video.timeBase;
  const packet = new Packet();
  packet.alloc();
  const spare = new Frame();
  spare.alloc();
  let shown: Frame | null = null;
  let shownAt = -1;
  let graph: Graph | undefined;
  let graphKind = '';

  const indexOf = (pts: bigint) => {
    const us = (Number(pts - facts.firstTick) * base.num * 1e6) / base.den;
    let best = 0;
    for (const [index, one] of facts.ptsUs.entries())
      if (Math.abs(one - us) < Math.abs((facts.ptsUs[best] ?? 0) - us)) best = index;
    return best;
  };
  const decodeTo = (wanted: number) => {
    let isThere = false;
    const take = (frame: Frame) => {
      if (isThere) return;
      const index = indexOf(frame.bestEffortTimestamp);
      if (index > wanted) return;
      shown?.free();
      shown = frame.clone();
      shownAt = index;
      isThere = index === wanted;
    };
    while (!isThere && source.file.readFrameSync(packet) >= 0) {
      if (packet.streamIndex === source.video.index) decode(decoder, packet, spare, take);
      packet.unref();
    }
    if (!isThere) decode(decoder, null, spare, take);
    return isThere;
  };
  const seek = (wanted: number) => {
    const us = facts.ptsUs[wanted] ?? 0;
    const tick = facts.firstTick + BigInt(Math.round((us * base.den) / (base.num * 1e6)));
    FFmpegError.throwIfError(
      source.file.seekFrameSync(source.video.index, tick, AVSEEK_FLAG_BACKWARD),
      'seek',
    );
    decoder.flushBuffers();
  };

  return {
    frames: facts.ptsUs.length,
    /** A part of that frame in the size it is to have, as packed RGBA. */
    rgba({ frame, from, to }: Layer): Buffer {
      if (frame !== shownAt) {
        if (shownAt === -1 || frame < shownAt || frame > shownAt + AHEAD) seek(frame);
        if (!decodeTo(frame)) throw new MediaFault('frames-lost', `frame ${frame} could not be decoded`);
      }
      const picture = shown;
      if (!picture) throw new MediaFault('frames-lost', `frame ${frame} is not there`);
      const kind = `${frameKind(picture)} ${JSON.stringify([from, to.width, to.height])}`;
      if (kind !== graphKind) {
        graph?.close();
        graph = openGraph(
          'video',
          pictureSource(picture, base),
          `crop=${from.width}:${from.height}:${from.x}:${from.y}:exact=1,scale=${to.width}:${to.height},format=rgba`,
        );
        graphKind = kind;
      }
      let bytes: Buffer | null = null;
      graph?.push(picture, (ready) => {
        bytes = ready.toBuffer();
      });
      if (!bytes) throw new MediaFault('frames-lost', `frame ${frame} could not be drawn`);
      return bytes;
    },
    close() {
      graph?.close();
      shown?.free();
      spare.free();
      packet.free();
      decoder.freeContext();
      source.close();
    },
  };
};
type Clip = Awaited<ReturnType<typeof openClip>>;

/** Lays a layer onto the picture; what lies outside of it is left out. */
const lay = (onto: Buffer, width: number, height: number, pixels: Buffer, { to, opacity }: Layer) => {
  const left = Math.max(0, to.x);
  const right = Math.min(width, to.x + to.width);
  for (let y = Math.max(0, to.y); y < Math.min(height, to.y + to.height); y++) {
    const source = ((y - to.y) * to.width + (left - to.x)) * 4;
    const target = (y * width + left) * 4;
    const length = (right - left) * 4;
    if (opacity >= 1) pixels.copy(onto, target, source, source + length);
    else
      for (let at = 0; at < length; at++) {
        const under = onto[target + at] ?? 0;
        onto[target + at] = under + ((pixels[source + at] ?? 0) - under) * opacity;
      }
  }
};

/** Hands the sound over as far as the pictures are. */
const soundWriter = (samples: Float32Array, writer: RenditionWriter) => {
  let at = 0;
  return (untilMs: number) => {
    const until = Math.min(samples.length, Math.round((untilMs * VOICE_RATE) / 1000));
    while (at < until) {
      const part = new Float32Array(SOUND_FRAME);
      part.set(samples.subarray(at, at + SOUND_FRAME));
      const frame = Frame.fromAudioBuffer(Buffer.from(part.buffer), {
        ...{ nbSamples: SOUND_FRAME, format: AV_SAMPLE_FMT_FLTP, sampleRate: VOICE_RATE },
        channelLayout: { nbChannels: 1, order: AV_CHANNEL_ORDER_NATIVE, mask: 4n },
        ...{ timeBase: { num: 1, den: VOICE_RATE }, pts: BigInt(at) },
      });
      try {
        writer.sound(frame);
      } finally {
        frame.free();
      }
      at += SOUND_FRAME;
    }
  };
};

/**
 * Makes an MP4 (H.264, AAC) of a planned film: `film.mp4` in the folder of the job. Pictures stand at their own
 * milliseconds. Throws a MediaFault when a clip or the voice cannot be read.
 */
export async function renderFilm(
  job: FilmJob,
  alive: (percent: number) => Promise<void>,
): Promise<{ pictures: number }> {
  const plan = filmPlanSchema.parse(JSON.parse(readFileSync(job.plan, 'utf8')));
  const { width, height } = plan;
  const closing: (() => void)[] = [];
  try {
    const clips = new Map<string, Clip>();
    for (const { clipId, file } of job.clips) {
      const clip = await openClip(file, () => alive(0));
      closing.push(clip.close);
      clips.set(clipId, clip);
    }
    const voice = job.voice && openVoice(job.voice.file, job.voice.type);
    if (job.voice && !voice) throw new MediaFault('unreadable', 'the voice cannot be read');
    if (voice) closing.push(voice.close);
    const target = path.join(job.folder, job.captions ? 'pictures.mp4' : 'film.mp4');
    const writer = openRendition(target, {
      ...{ width, height, timeBase: { num: 1, den: 1000 }, rate: 30, keyFrameDistance: 60 },
      hasSound: voice !== null,
    });
    closing.push(() => writer.close());
    const sound = new Float32Array(Math.round((plan.durationMs * VOICE_RATE) / 1000));
    if (voice) sound.set(voice.samples().subarray(0, sound.length));
    const hear = voice ? soundWriter(sound, writer) : () => {};
    const drawing = openGraph(
      'video',
      `video_size=${width}x${height}:pix_fmt=${AV_PIX_FMT_RGBA}:time_base=1/10:pixel_aspect=1/1`,
      `ass=filename=${inFilter(job.script)}:fontsdir=${inFilter(fontsFolder())},` +
        'scale=out_color_matrix=bt709:out_range=tv,format=yuv420p',
    );
    closing.push(drawing.close);

    let lastMs = 0;
    for (const [index, { atMs, layers }] of plan.pictures.entries()) {
      const canvas = Buffer.alloc(width * height * 4, NIGHT);
      for (const layer of layers) {
        const clip = clips.get(layer.clipId);
        if (clip) lay(canvas, width, height, clip.rgba(layer), layer);
      }
      const untilMs = plan.pictures[index + 1]?.atMs ?? plan.durationMs;
      const frame = Frame.fromVideoBuffer(canvas, {
        ...{ width, height, format: AV_PIX_FMT_RGBA, timeBase: { num: 1, den: 10 }, pts: BigInt(index) },
      });
      try {
        drawing.push(frame, (ready) => {
          for (let ms = atMs; ms < untilMs; ms += REPEAT_MS) {
            writer.picture(ready, BigInt(ms));
            lastMs = ms;
          }
        });
      } finally {
        frame.free();
      }
      hear(untilMs);
      await alive((97 * untilMs) / plan.durationMs);
    }
    hear(plan.durationMs);
    writer.finish(BigInt(Math.max(1, plan.durationMs - lastMs)));
    if (job.captions)
      await addCaptionTrack(target, path.join(job.folder, 'film.mp4'), readFileSync(job.captions, 'utf8'));
    return { pictures: plan.pictures.length };
  } finally {
    for (const close of closing.reverse()) close();
  }
}
