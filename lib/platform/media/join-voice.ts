import path from 'node:path';
import { statSync } from 'node:fs';
import { MediaFault } from './media-fault';
import type { SoundJob, VoiceFacts, VoiceJob } from './messages';
import { OPUS_RATE, silentPackets } from './opus-packets';
import { openVoice, VOICE_RATE, type VoicePacket, type VoiceTake } from './voice-take';
import { encodeVoice, writeOpus } from './voice-writer';

/** The shortest packet there is, in samples: nearer than that two places are the same. */
const SHORTEST = 120;

type Pieces = VoiceJob['pieces'];
const toSamples = (ms: number) => Math.round((ms * OPUS_RATE) / 1000);

/**
 * Joins pieces of takes into one voice: Opus by its packets, without encoding again, silence where a piece has no
 * sound; what is not all Opus is decoded and encoded anew. Each piece lasts exactly as long as it says, so that the
 * events that go with it fit. Throws a MediaFault, `unreadable`, when no take can be read.
 */
export function joinVoice(job: VoiceJob): VoiceFacts {
  const takes = job.takes.map(({ file, type }) => openVoice(file, type));
  try {
    const there = takes.filter((take) => take !== null);
    const [first] = there;
    if (!first) throw new MediaFault('unreadable', 'no take can be read');
    const isOpus = there.every((take) => take.opus !== null);
    const isAac = there.every((take) => take.opus === null);
    const type = isAac ? 'audio/mp4' : 'audio/webm';
    const file = isAac ? 'voice.m4a' : 'voice.webm';
    const target = path.join(job.folder, file);
    if (isOpus) writeOpus(target, joinPackets(job.pieces, takes), first.track);
    else encodeVoice(target, joinSamples(job.pieces, takes), isAac ? 'aac' : 'opus');
    return {
      ...{ file, type, sizeBytes: statSync(target).size },
      takes: takes.map((take) => (take ? { durationMs: Math.round(take.durationMs) } : null)),
    };
  } finally {
    for (const take of takes) take?.close();
  }
}

function joinPackets(pieces: Pieces, takes: readonly (VoiceTake | null)[]): VoicePacket[] {
  const joined: VoicePacket[] = [];
  let clock = 0;
  const pad = (to: number) => {
    for (const { samples, bytes } of silentPackets(to - clock)) {
      joined.push({ at: clock, samples, bytes });
      clock += samples;
    }
  };
  let startsAt = 0;
  for (const piece of pieces) {
    const from = toSamples(piece.fromMs);
    const to = toSamples(piece.toMs);
    const packets = piece.take === null ? [] : (takes[piece.take]?.opus ?? []);
    for (const packet of packets) {
      const at = startsAt + packet.at - from;
      // A packet that the cut goes through is left out: it can only be heard whole.
      if (packet.at < from || packet.at + packet.samples > to + SHORTEST || at < clock - SHORTEST) continue;
      pad(at);
      joined.push({ at: clock, samples: packet.samples, bytes: packet.bytes });
      clock += packet.samples;
    }
    startsAt += to - from;
    pad(startsAt);
  }
  return joined;
}

function joinSamples(pieces: Pieces, takes: readonly (VoiceTake | null)[]): Float32Array {
  const total = pieces.reduce((sum, piece) => sum + piece.toMs - piece.fromMs, 0);
  const joined = new Float32Array(toSamples(total));
  let startsAt = 0;
  const decoded = new Map<number, Float32Array>();
  for (const piece of pieces) {
    const [from, to] = [toSamples(piece.fromMs), toSamples(piece.toMs)];
    const take = piece.take === null ? null : takes[piece.take];
    if (take && piece.take !== null) {
      const samples = decoded.get(piece.take) ?? take.samples();
      decoded.set(piece.take, samples);
      joined.set(samples.subarray(from, Math.min(to, from + joined.length - startsAt)), startsAt);
    }
    startsAt += to - from;
  }
  return joined;
}

/** Writes a voice anew as AAC in MP4, `sound.m4a`, as long as it is told to be. Throws a MediaFault when it cannot be read. */
export function encodeSound(job: SoundJob): { sizeBytes: number } {
  const voice = openVoice(job.voice, job.type);
  if (!voice) throw new MediaFault('unreadable', 'the voice cannot be read');
  try {
    const samples = new Float32Array(Math.round((job.durationMs * VOICE_RATE) / 1000));
    samples.set(voice.samples().subarray(0, samples.length));
    const target = path.join(job.folder, 'sound.m4a');
    encodeVoice(target, samples, 'aac');
    return { sizeBytes: statSync(target).size };
  } finally {
    voice.close();
  }
}
