import { ADULT, ELEVEN, FIFTEEN } from './body';
import { mirroredCamera, type Camera } from './camera';
import { ADULT_KIT, ELEVEN_KIT, FIFTEEN_KIT } from './kits';
import { BALL_RADIUS } from './plate';
import type { Setting } from './scene/field';
import type { Kit } from './scene/kit';
import { SOUND, type Hitter, type Style } from './style';

/** One clip of the demo: who swings, how, and how a phone took it. */
export interface DemoClip {
  /** File name without its ending. */
  name: string;
  container: 'mp4' | 'mov';
  person: 'adult' | 'fifteen' | 'eleven';
  lesson: number;
  view: 'open_side' | 'behind' | 'front';
  hitter: Hitter;
  kit: Kit;
  setting: Setting;
  camera: Camera;
  /** Pictures a second as they were taken, and as the file plays them (less: a phone's slow motion). */
  captureRate: number;
  fileRate: number;
  /** Seconds from contact of the first frame, and how many seconds were taken. */
  start: number;
  seconds: number;
  /** Degrees clockwise that a player must turn the stored picture, as with phones held upright. */
  turned: 0 | 90;
  /** Frames come as unevenly as from a phone, and one is missing. */
  uneven: boolean;
  /** Long groups of pictures with B-frames, else one key frame in 30 and none. */
  longGroups: boolean;
  sound: boolean;
}

export const frameCount = (clip: DemoClip): number => Math.round(clip.seconds * clip.captureRate);
export const fileName = (clip: DemoClip): string => `${clip.name}.${clip.container}`;

const MISSING_AFTER = 12;
const JITTER = 0.1;

// In frame intervals since the first frame.
function taken(clip: DemoClip, frame: number): number {
  if (!clip.uneven || frame === 0) return frame;
  return frame + (frame > MISSING_AFTER ? 1 : 0) + JITTER * Math.sin(frame * 2.399) * Math.sin(frame * 0.71);
}

/** Seconds from contact of a frame. */
export const timeOfFrame = (clip: DemoClip, frame: number): number =>
  clip.start + taken(clip, frame) / clip.captureRate;

/** Where a frame stands in the file, in microseconds from the first one. */
export const stampOf = (clip: DemoClip, frame: number): number =>
  Math.round((taken(clip, frame) / clip.fileRate) * 1e6);

/** The frame nearest to a time in seconds from contact. */
export function frameNear(clip: DemoClip, time: number): number {
  let best = 0;
  for (let frame = 1; frame < frameCount(clip); frame++) {
    if (Math.abs(timeOfFrame(clip, frame) - time) < Math.abs(timeOfFrame(clip, best) - time)) best = frame;
  }
  return best;
}

const inches = (n: number) => n * 0.0254;

const adult = (style: Partial<Style>): Hitter => ({
  bats: 'right',
  body: ADULT,
  style: { ...SOUND, ...style },
  bat: { length: inches(33), barrelRadius: inches(1.125) },
  ballRadius: BALL_RADIUS.softball,
  ballAt: [0.5, -0.02],
});

const fifteen = (style: Partial<Style>): Hitter => ({
  bats: 'right',
  body: FIFTEEN,
  style: { ...SOUND, slowness: 1.04, legLift: 0.17, ...style },
  bat: { length: inches(32), barrelRadius: inches(1.3) },
  ballRadius: BALL_RADIUS.baseball,
  ballAt: [0.48, 0],
});

const eleven = (style: Partial<Style>): Hitter => ({
  bats: 'left',
  body: ELEVEN,
  style: { ...SOUND, slowness: 1.14, strideLength: 0.17, legLift: 0.11, finish: 0.6, ...style },
  bat: { length: inches(28), barrelRadius: inches(1.125) },
  ballRadius: BALL_RADIUS.baseball,
  ballAt: [0.45, 0],
});

// For a right-handed hitter, a phone at chest height: off the open side, wide and upright; behind the plate; far in front.
const wide: Camera = {
  position: [0.42, -4.2, 1.35],
  target: [0.34, 0.7, 0.98],
  fieldOfView: 54,
  width: 1280,
  height: 720,
};
const upright: Camera = {
  position: [0.62, -4.1, 1.2],
  target: [0.38, 0.7, 0.9],
  fieldOfView: 32,
  width: 720,
  height: 1280,
};
const low: Camera = {
  position: [0.2, -3.4, 1.15],
  target: [0.34, 0.7, 0.8],
  fieldOfView: 56,
  width: 1280,
  height: 720,
};
const near: Camera = {
  position: [0.5, -3.5, 1.05],
  target: [0.34, 0.6, 0.76],
  fieldOfView: 32,
  width: 720,
  height: 1280,
};
const behind: Camera = {
  position: [-4.1, 0.35, 1.35],
  target: [0.4, 0.45, 1.08],
  fieldOfView: 61,
  width: 1280,
  height: 720,
};
const far: Camera = {
  position: [8.2, 1.5, 1.0],
  target: [0.2, 0.5, 1.0],
  fieldOfView: 44,
  width: 640,
  height: 360,
};

const usual = {
  container: 'mp4',
  captureRate: 60,
  fileRate: 60,
  start: -1.25,
  seconds: 1.75,
  turned: 0,
  uneven: false,
  longGroups: false,
  sound: false,
} as const;
const asAdult = { ...usual, person: 'adult', kit: ADULT_KIT, setting: 'field' } as const;
const asFifteen = { ...usual, person: 'fifteen', kit: FIFTEEN_KIT, setting: 'field' } as const;
const asEleven = { ...usual, person: 'eleven', kit: ELEVEN_KIT, setting: 'yard' } as const;

const adultSecond = adult({ headDrift: 0.02, softFrontLeg: 0.15, handsLow: 0.02 });
const fifteenSecond = fifteen({ strideFootOpen: 61, shouldersEarly: 8, hipsEarly: 6 });

export const DEMO_CLIPS: readonly DemoClip[] = [
  {
    ...asFifteen,
    name: 'fifteen-1-open-side',
    lesson: 1,
    view: 'open_side',
    hitter: fifteen({ strideFootOpen: 75, shouldersEarly: 16, hipsEarly: 12 }),
    camera: wide,
  },
  {
    ...asAdult,
    name: 'adult-1-open-side',
    lesson: 1,
    view: 'open_side',
    hitter: adult({ headDrift: 0.09, softFrontLeg: 0.9, handsLow: 0.1 }),
    camera: upright,
    turned: 90,
    sound: true,
  },
  {
    ...asEleven,
    name: 'eleven-1-open-side',
    lesson: 1,
    view: 'open_side',
    hitter: eleven({ casting: 0.85, hipsEarly: 14, strideFootOpen: 52 }),
    camera: mirroredCamera(low),
    start: -1.35,
    seconds: 1.85,
    uneven: true,
  },
  {
    ...asFifteen,
    name: 'fifteen-2-open-side',
    lesson: 2,
    view: 'open_side',
    hitter: fifteenSecond,
    camera: wide,
    longGroups: true,
    sound: true,
  },
  {
    ...asFifteen,
    name: 'fifteen-2-behind',
    lesson: 2,
    view: 'behind',
    hitter: fifteenSecond,
    camera: behind,
    seconds: 1.6,
  },
  {
    ...asFifteen,
    name: 'fifteen-3-open-side',
    container: 'mov',
    lesson: 3,
    view: 'open_side',
    hitter: fifteen({ strideFootOpen: 47 }),
    camera: wide,
    captureRate: 120,
    fileRate: 120,
    start: -1.15,
    seconds: 1.6,
    uneven: true,
    sound: true,
  },
  {
    ...asEleven,
    name: 'eleven-2-open-side',
    container: 'mov',
    lesson: 2,
    view: 'open_side',
    hitter: eleven({ casting: 0.25, hipsEarly: 3 }),
    camera: mirroredCamera(near),
    start: -1.35,
    seconds: 1.85,
    turned: 90,
    sound: true,
  },
  {
    ...asAdult,
    name: 'adult-2-front',
    lesson: 2,
    view: 'front',
    hitter: adultSecond,
    camera: far,
    captureRate: 30,
    fileRate: 30,
    start: -1.12,
    seconds: 1.5,
  },
  {
    ...asAdult,
    name: 'adult-2-open-side',
    container: 'mov',
    lesson: 2,
    view: 'open_side',
    hitter: adultSecond,
    camera: wide,
    captureRate: 240,
    fileRate: 30,
    start: -0.8,
    seconds: 1.1,
    longGroups: true,
  },
];
