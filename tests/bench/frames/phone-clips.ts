import type { ClipRecipe, Painter } from '../../support/media/make-clip';
import { paintCounter, type CounterArea, type Pixels } from '../../support/media/counter';

/** Where the counter stands in the upright picture. */
export const COUNTER_AREA: CounterArea = { x: 0.25, y: 0.1, width: 0.5, height: 0.2 };

type Turn = NonNullable<ClipRecipe['rotation']>;

/** A fixed pseudo-random sequence (Lehmer), so that every run films the same grass. */
export function grass(width: number, height: number): Uint8Array {
  const texture = new Uint8Array(width * height * 4);
  let state = 20_011;
  for (let at = 0; at < texture.length; at += 4) {
    state = (state * 48_271) % 2_147_483_647;
    const y = Math.floor(at / 4 / width);
    const base = 60 + (y * 100) / height + (state % 24);
    texture[at] = base * 0.8;
    texture[at + 1] = base;
    texture[at + 2] = base * 0.6;
    texture[at + 3] = 255;
  }
  return texture;
}

/** A textured field that pans like a hand-held phone, with the frame number upright in it after the given turn. */
function handHeld(rotation: Turn): Painter {
  let texture: Uint8Array | null = null;
  return (frame, { width, height }) => {
    const margin = 32;
    const wide = width + margin * 2;
    texture ??= grass(wide, height + margin * 2);
    const dx = Math.round(margin + margin * 0.9 * Math.sin(frame / 7));
    const dy = Math.round(margin + margin * 0.9 * Math.sin(frame / 5));
    const coded = new Uint8Array(width * height * 4);
    for (let y = 0; y < height; y++) {
      const from = ((y + dy) * wide + dx) * 4;
      coded.set(texture.subarray(from, from + width * 4), y * width * 4);
    }
    const isQuarter = rotation % 180 !== 0;
    const [uprightWidth, uprightHeight] = isQuarter ? [height, width] : [width, height];
    const label: Pixels = {
      width: Math.round(uprightWidth * COUNTER_AREA.width),
      height: Math.round(uprightHeight * COUNTER_AREA.height),
      data: new Uint8Array(0),
    };
    label.data = new Uint8Array(label.width * label.height * 4);
    paintCounter(label, frame);
    const left = Math.round(uprightWidth * COUNTER_AREA.x);
    const top = Math.round(uprightHeight * COUNTER_AREA.y);
    const source = new Uint32Array(label.data.buffer);
    const target = new Uint32Array(coded.buffer);
    for (let ly = 0; ly < label.height; ly++)
      for (let lx = 0; lx < label.width; lx++) {
        const [ux, uy] = [left + lx, top + ly];
        const [x, y] =
          rotation === 90
            ? [uy, height - 1 - ux]
            : rotation === 180
              ? [width - 1 - ux, height - 1 - uy]
              : rotation === 270
                ? [width - 1 - uy, ux]
                : [ux, uy];
        target[y * width + x] = source[ly * label.width + lx] ?? 0;
      }
    return coded;
  };
}

type PhoneClip = Omit<ClipRecipe, 'path' | 'paint'> & { name: string; ending: 'mp4' | 'mov' };

const PHONE_CLIPS: PhoneClip[] = [
  {
    name: 'portrait-ntsc-turned-90',
    ending: 'mov',
    frames: 90,
    width: 1920,
    height: 1080,
    rate: { num: 30_000, den: 1001 },
    rotation: 90,
    gop: 30,
    bFrames: 2,
  },
  {
    name: 'portrait-30-reordered',
    ending: 'mp4',
    frames: 90,
    width: 1080,
    height: 1920,
    gop: 30,
    bFrames: 2,
  },
  {
    name: 'portrait-variable',
    ending: 'mp4',
    frames: 90,
    width: 1080,
    height: 1920,
    timing: {
      timescale: 90_000,
      ticks: (frame) => frame * 3003 + (frame % 5) * 180 + Math.floor(frame / 23) * 3003,
    },
  },
  {
    name: 'slow-motion-240',
    ending: 'mov',
    frames: 160,
    width: 720,
    height: 1280,
    rate: { num: 240, den: 1 },
    gop: 60,
  },
  {
    name: 'portrait-ntsc-60-reordered',
    ending: 'mov',
    frames: 110,
    width: 1080,
    height: 1920,
    rate: { num: 60_000, den: 1001 },
    gop: 60,
    bFrames: 2,
  },
  {
    name: 'hevc-120-turned-270',
    ending: 'mov',
    frames: 110,
    width: 1280,
    height: 720,
    rate: { num: 120, den: 1 },
    rotation: 270,
    codec: 'hevc',
    gop: 60,
  },
  {
    name: 'trimmed-with-edit-list',
    ending: 'mov',
    frames: 90,
    width: 1080,
    height: 1920,
    gop: 30,
    edit: { hideFirst: 11 },
  },
  {
    name: 'upside-down-25',
    ending: 'mp4',
    frames: 80,
    width: 1920,
    height: 1080,
    rate: { num: 25, den: 1 },
    rotation: 180,
    gop: 25,
  },
  { name: 'four-by-three', ending: 'mov', frames: 80, width: 1080, height: 1440, gop: 30, bFrames: 1 },
  { name: 'hdr-hlg', ending: 'mov', frames: 60, width: 1080, height: 1920, hdr: 'hlg', gop: 30 },
  {
    name: 'small-and-halting',
    ending: 'mp4',
    frames: 100,
    width: 480,
    height: 848,
    timing: {
      timescale: 1000,
      ticks: (frame) => frame * 42 + (frame % 9 === 8 ? 30 : 0) + Math.floor(frame / 31) * 400,
    },
  },
  {
    name: 'landscape-24',
    ending: 'mp4',
    frames: 72,
    width: 1280,
    height: 720,
    rate: { num: 24, den: 1 },
    gop: 48,
    bFrames: 2,
  },
];

/** Clips as phones write them, each frame with its number in it. */
export const phoneRecipes = (folder: string): (ClipRecipe & { name: string })[] =>
  PHONE_CLIPS.map(({ ending, ...clip }) => ({
    ...clip,
    sound: 440,
    path: `${folder}/${clip.name}.${ending}`,
    paint: handHeld(clip.rotation ?? 0),
  }));
