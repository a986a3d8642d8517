import type { MicFault } from './record-faults';

/** A microphone as it is chosen; names are known only after the browser gave one. */
export interface MicDevice {
  readonly id: string;
  readonly label: string;
}

/** An open microphone with its own audio context. Close it when nothing records any more. */
export interface Mic {
  readonly context: AudioContext;
  readonly source: MediaStreamAudioSourceNode;
  readonly track: MediaStreamTrack;
  readonly device: MicDevice;
  /** How loud it is just now: 0 is silence (at most -60 dB below full scale), 1 is as loud as it can be told. */
  level(): number;
  close(): void;
}

export type MicAnswer = { readonly ok: true; readonly mic: Mic } | { readonly ok: false; fault: MicFault };

const QUIETEST_DB = -60;
/** Samples of which a loudness is taken: 43 ms at 48 kHz. */
const LEVEL_BLOCK = 2048;

/** A loudness (root mean square of samples from -1 to 1) on the scale that `Mic.level` answers. */
export const levelOf = (samples: Float32Array): number => {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  const db = 10 * Math.log10(sum / Math.max(1, samples.length) || 1e-12);
  return Math.min(1, Math.max(0, 1 - db / QUIETEST_DB));
};

/** The reason behind an error of `getUserMedia` (Media Capture and Streams, W3C, the names of its exceptions). */
export const micFaultOf = (error: unknown): MicFault => {
  const name = error instanceof DOMException || error instanceof Error ? error.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'denied';
  if (name === 'NotFoundError' || name === 'OverconstrainedError') return 'no-device';
  if (name === 'NotReadableError' || name === 'AbortError') return 'in-use';
  return 'unsupported';
};

/**
 * Asks for a microphone, by its id or any, and opens it. `isRaw` leaves out the browser's noise suppression and gain,
 * for signals that are not speech. Call it after a press: a context that starts without one may stay silent.
 */
export const openMic = async (
  options: { deviceId?: string | undefined; isRaw?: boolean } = {},
): Promise<MicAnswer> => {
  const fail = (fault: MicFault): MicAnswer => ({ ok: false, fault });
  if (!globalThis.isSecureContext) return fail('not-secure');
  if (!navigator.mediaDevices?.getUserMedia || !globalThis.AudioContext) return fail('unsupported');
  const isTidied = options.isRaw !== true;
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      audio: {
        ...(options.deviceId && { deviceId: { exact: options.deviceId } }),
        channelCount: 1,
        echoCancellation: isTidied,
        noiseSuppression: isTidied,
        autoGainControl: isTidied,
      },
    });
  } catch (error) {
    return fail(micFaultOf(error));
  }
  const [track] = stream.getAudioTracks();
  if (!track) return fail('no-device');
  try {
    const context = new AudioContext({ latencyHint: 'interactive' });
    await context.resume();
    const source = context.createMediaStreamSource(stream);
    const analyser = context.createAnalyser();
    // More than lies between two readings: a sound that begins and ends between them would never be seen.
    analyser.fftSize = 4 * LEVEL_BLOCK;
    source.connect(analyser);
    const samples = new Float32Array(analyser.fftSize);
    const close = () => {
      source.disconnect();
      for (const each of stream.getTracks()) each.stop();
      if (context.state !== 'closed') void context.close();
    };
    const level = () => {
      analyser.getFloatTimeDomainData(samples);
      return Math.max(
        ...[0, 1, 2, 3].map((block) =>
          levelOf(samples.subarray(block * LEVEL_BLOCK, (block + 1) * LEVEL_BLOCK)),
        ),
      );
    };
    const device = { id: track.getSettings().deviceId ?? '', label: track.label || 'Microphone' };
    return { ok: true, mic: { context, source, track, device, level, close } };
  } catch {
    for (const each of stream.getTracks()) each.stop();
    return fail('in-use');
  }
};

/** The microphones there are. Before one was given the browser names none of them. */
export const listMics = async (): Promise<MicDevice[]> => {
  const all = (await navigator.mediaDevices?.enumerateDevices?.().catch(() => [])) ?? [];
  return all
    .filter((one) => one.kind === 'audioinput' && one.deviceId !== '')
    .map((one, index) => ({ id: one.deviceId, label: one.label || `Microphone ${index + 1}` }));
};
