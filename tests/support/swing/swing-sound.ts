import type { DemoClip } from './demo-clips';
import { seeded } from './scene/random';

export const SOUND_RATE = 48_000;

/** What a phone hears: quiet air and the crack of the bat at contact. One channel, -1 to 1. */
export function swingSound(clip: DemoClip): Float32Array<ArrayBuffer> {
  const random = seeded(clip.lesson * 97 + clip.name.length);
  const samples = new Float32Array(Math.ceil(clip.seconds * SOUND_RATE));
  let air = 0;
  for (let i = 0; i < samples.length; i++) {
    air += (random() - 0.5 - air) * 0.08;
    const since = clip.start + i / SOUND_RATE;
    const crack =
      since < 0
        ? 0
        : Math.exp(-since * 55) * (random() - 0.5) * 1.3 +
          Math.exp(-since * 90) * Math.sin(since * 2 * Math.PI * 1150) * 0.4;
    samples[i] = Math.max(-1, Math.min(1, air * 0.05 + crack * 0.8));
  }
  return samples;
}
