import { paintCounter } from '../../support/media/counter';
import type { ClipRecipe } from '../../support/media/make-clip';
import { COUNTER_AREA, grass } from '../frames/phone-clips';

/** Grey levels of noise at middle grey; it grows with the root of the light (shot noise, the model of EMVA 1288). */
const NOISE_AT_MIDDLE = 2;
/** How far a hand sways, in pixels, and the swing: the bat turns about its hands once round in so many frames. */
const SWAY = 28.8;
const SWING_FRAMES = 80;
const BAT = { length: 520, half: 24, x: 0.5, y: 0.62 };

/** A fixed sequence of normally distributed values (Lehmer and Box-Muller), so that every run films the same noise. */
const noiseTable = (size: number): Float32Array => {
  let state = 40_503;
  const uniform = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  return Float32Array.from(
    { length: size },
    () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()),
  );
};

/**
 * A clip as a phone films it: the field of the other clips, but the hand moves it by parts of a pixel, the sensor adds
 * its noise to every frame anew, and a bat swings through it. The frame number is burnt in.
 */
export const filmedRecipe = (folder: string): ClipRecipe & { name: string } => {
  const [width, height] = [1080, 1920];
  const margin = 32;
  const wide = width + margin * 2;
  let texture: Uint8Array | null = null;
  let noise: Float32Array | null = null;
  return {
    ...{ name: 'filmed-60', path: `${folder}/filmed-60.mov`, frames: 110, width, height },
    ...{ rate: { num: 60_000, den: 1001 }, gop: 60, bFrames: 2, sound: 440 },
    paint: (frame) => {
      texture ??= grass(wide, height + margin * 2);
      noise ??= noiseTable(2 ** 20);
      const dx = margin + SWAY * Math.sin(frame / 7);
      const dy = margin + SWAY * Math.sin(frame / 5);
      const [left, top] = [Math.floor(dx), Math.floor(dy)];
      const [fx, fy] = [dx - left, dy - top];
      const [a, b, c, d] = [(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy];
      const turn = (2 * Math.PI * frame) / SWING_FRAMES;
      const [ux, uy] = [Math.cos(turn), Math.sin(turn)];
      const data = new Uint8Array(width * height * 4);
      let at = (frame * 7919) % noise.length;
      for (let y = 0; y < height; y += 1)
        for (let x = 0; x < width; x += 1) {
          const from = ((y + top) * wide + x + left) * 4;
          const [rx, ry] = [x - BAT.x * width, y - BAT.y * height];
          const along = rx * ux + ry * uy;
          const isBat = along > 0 && along < BAT.length && Math.abs(ry * ux - rx * uy) < BAT.half;
          at = at + 1 === noise.length ? 0 : at + 1;
          for (let channel = 0; channel < 3; channel += 1) {
            const light = isBat
              ? 190 - 20 * channel + 12 * Math.sin(along / 9)
              : a * (texture[from + channel] ?? 0) +
                b * (texture[from + 4 + channel] ?? 0) +
                c * (texture[from + wide * 4 + channel] ?? 0) +
                d * (texture[from + wide * 4 + 4 + channel] ?? 0);
            const spread = NOISE_AT_MIDDLE * Math.sqrt(light / 128);
            const value = light + spread * (noise[(at + channel * 9973) % noise.length] ?? 0);
            data[(y * width + x) * 4 + channel] = Math.min(255, Math.max(0, Math.round(value)));
          }
          data[(y * width + x) * 4 + 3] = 255;
        }
      paintCounter({ data, width, height }, frame, COUNTER_AREA);
      return data;
    },
  };
};
