import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { openMic } from '@/lib/review/record/mic';
import { startVoiceTake } from '@/lib/review/record/recorder';
import { held, type Stand } from './stand';

/** A click is the first sample of a burst this loud after so long of silence. */
export const LOUD = 0.25;
export const SILENT_S = 0.3;

/** Where clicks begin in samples from -1 to 1, in seconds. */
export const clicksIn = (samples: Float32Array, samplesPerSecond: number): number[] => {
  const found: number[] = [];
  let quietSince = -Infinity;
  for (let at = 0; at < samples.length; at += 1) {
    if (Math.abs(samples[at] ?? 0) < LOUD) continue;
    const seconds = at / samplesPerSecond;
    if (seconds - quietSince > SILENT_S) found.push(seconds);
    quietSince = seconds;
  }
  return found;
};

const EAR = `
registerProcessor('ear', class extends AudioWorkletProcessor {
  last = -1;
  process([input]) {
    const samples = input[0] ?? [];
    for (let i = 0; i < samples.length; i += 1) {
      if (Math.abs(samples[i]) < ${LOUD}) continue;
      const now = currentTime + i / sampleRate;
      if (now - this.last > ${SILENT_S}) this.port.postMessage(now);
      this.last = now;
    }
    return true;
  }
});`;

/**
 * Records clicks that come from the microphone for so long; each is answered by an event as soon as the page hears it.
 * Answers how far each event lies from its click in the recorded voice, in milliseconds (positive: the event is late).
 */
export const measureSync = async ({ tap }: Stand, lengthMs: number): Promise<number[]> => {
  const answer = await openMic({ isRaw: true });
  if (!answer.ok) throw new Error(answer.fault);
  const { mic } = answer;
  const voices: Promise<ArrayBuffer>[] = [];
  const events: BreakdownEvent[] = [];
  await mic.context.audioWorklet.addModule(URL.createObjectURL(new Blob([EAR], { type: 'text/javascript' })));
  const ear = new AudioWorkletNode(mic.context, 'ear');
  mic.source.connect(ear);
  const take = startVoiceTake(mic, {
    onSlice: ({ voice }) => {
      events.push(...tap.drain());
      if (voice) voices.push(voice);
    },
    onInterruption: (why) => {
      throw new Error(`It was interrupted: ${why}`);
    },
  });
  tap.begin(take.nowMs);
  let count = 0;
  ear.port.onmessage = () => {
    count += 1;
    tap.around({ caption: `click ${count}` });
  };
  await held(lengthMs);
  ear.port.onmessage = null;
  tap.end();
  await take.stop();
  events.push(...tap.drain());
  mic.close();
  const bytes = await new Blob(await Promise.all(voices)).arrayBuffer();
  const sound = await new OfflineAudioContext(1, 1, 48_000).decodeAudioData(bytes);
  const clicks = clicksIn(sound.getChannelData(0), 48_000).map((seconds) => seconds * 1000);
  const heard = events.flatMap((event) => (event.kind === 'caption' && event.text !== '' ? [event.t] : []));
  return heard.flatMap((t) => {
    const near = clicks.toSorted((a, b) => Math.abs(a - t) - Math.abs(b - t))[0];
    return near !== undefined && Math.abs(near - t) < 400 ? [t - near] : [];
  });
};
