import { median } from './smooth';

// Seconds.
const STEP = 0.001;
/** How many times louder than the clip's usual a crack has to be. */
const CRACK = 8;
/** Share of the loudest step at which the crack is taken to begin. */
const ONSET = 0.3;
const BACK = 0.01;

/**
 * Seconds from the start of a sound (one channel, -1 to 1) at which something cracks, as a bat on a ball does: the onset
 * of its loudest millisecond, heard in the change from sample to sample, which passes over rumble and speech. Null when
 * nothing stands out. Sound of a slow-motion file has to be taken as it is timed in the file.
 */
export const contactBySound = (samples: Float32Array, sampleRate: number): number | null => {
  const step = Math.max(1, Math.round(STEP * sampleRate));
  const loudness = Array.from({ length: Math.floor(samples.length / step) }, (_, k) => {
    let sum = 0;
    for (let i = k * step; i < (k + 1) * step; i += 1) {
      sum += ((samples[i] ?? 0) - (samples[i - 1] ?? samples[i] ?? 0)) ** 2;
    }
    return Math.sqrt(sum / step);
  });
  const most = loudness.reduce((best, value, k) => (value > (loudness[best] ?? 0) ? k : best), 0);
  const peak = loudness[most] ?? 0;
  if (peak === 0 || peak < CRACK * median(loudness)) return null;
  let onset = most;
  while (onset > 0 && most - onset < BACK / STEP && (loudness[onset - 1] ?? 0) > ONSET * peak) onset -= 1;
  return (onset * step) / sampleRate;
};
