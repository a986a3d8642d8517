import { durationOf } from '@/lib/domain/breakdowns/join';
import type { Piece } from '@/lib/domain/breakdowns/timeline';

/** Enough for speech; ten minutes of it weigh less than thirty megabytes. */
const SAMPLES_PER_SECOND = 24_000;
const HEADER_BYTES = 44;

/** The sound of one take as samples, mono; an empty one where it cannot be read. */
const decode = async (voice: Uint8Array): Promise<Float32Array> => {
  const context = new OfflineAudioContext(1, 1, SAMPLES_PER_SECOND);
  try {
    return (await context.decodeAudioData(new Uint8Array(voice).buffer)).getChannelData(0);
  } catch {
    return new Float32Array();
  }
};

/** Samples from -1 to 1 as a WAV file: RIFF, PCM of 16 bits, mono. */
export const wavOf = (samples: Float32Array, samplesPerSecond = SAMPLES_PER_SECOND): Blob => {
  const bytes = new DataView(new ArrayBuffer(HEADER_BYTES + samples.length * 2));
  const text = (at: number, word: string) =>
    [...word].forEach((letter, index) => bytes.setUint8(at + index, letter.charCodeAt(0)));
  text(0, 'RIFF');
  bytes.setUint32(4, HEADER_BYTES - 8 + samples.length * 2, true);
  text(8, 'WAVEfmt ');
  bytes.setUint32(16, 16, true);
  bytes.setUint16(20, 1, true); // PCM
  bytes.setUint16(22, 1, true); // mono
  bytes.setUint32(24, samplesPerSecond, true);
  bytes.setUint32(28, samplesPerSecond * 2, true);
  bytes.setUint16(32, 2, true);
  bytes.setUint16(34, 16, true);
  text(36, 'data');
  bytes.setUint32(40, samples.length * 2, true);
  samples.forEach((sample, index) =>
    bytes.setInt16(HEADER_BYTES + index * 2, Math.round(Math.min(1, Math.max(-1, sample)) * 32_767), true),
  );
  return new Blob([bytes.buffer], { type: 'audio/wav' });
};

/**
 * The voice of pieces one after the other, silence where one has none, as a file that any element plays and seeks.
 * Null when none of them has a voice. `voiceOf` gives the recorder's bytes of a take or a remark.
 */
export const joinVoice = async (
  pieces: readonly Piece[],
  voiceOf: (piece: Piece) => Promise<Uint8Array | null>,
): Promise<Blob | null> => {
  const at = (ms: number) => Math.round((ms * SAMPLES_PER_SECOND) / 1000);
  const joined = new Float32Array(at(durationOf({ pieces: [...pieces] })));
  const decoded = new Map<string, Float32Array | null>();
  let startMs = 0;
  for (const piece of pieces) {
    if (!decoded.has(piece.segmentId)) {
      const voice = piece.kind === 'silent' ? null : await voiceOf(piece);
      decoded.set(piece.segmentId, voice && voice.byteLength > 0 ? await decode(voice) : null);
    }
    const sound = decoded.get(piece.segmentId);
    const end = Math.min(at(piece.toMs), at(piece.fromMs) + joined.length - at(startMs));
    if (sound) joined.set(sound.subarray(at(piece.fromMs), end), at(startMs));
    startMs += piece.toMs - piece.fromMs;
  }
  return [...decoded.values()].some((sound) => sound !== null) ? wavOf(joined) : null;
};
