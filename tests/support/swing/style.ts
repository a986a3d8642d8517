import type { Body } from './body';

/**
 * How somebody swings. Angles in degrees, lengths in metres of the adult body (they are scaled to others).
 * Openness: 0 = square to the plate, 90 = at the pitcher.
 */
export interface Style {
  /** Stride foot at foot strike. */
  strideFootOpen: number;
  strideLength: number;
  /** Height of the stride foot at the top of the load. */
  legLift: number;
  /** How far the head goes to the pitcher between load and foot strike, beyond quiet. */
  headDrift: number;
  /** Hips and shoulders at foot strike, beyond a sound coil. */
  hipsEarly: number;
  shouldersEarly: number;
  /** 0 to 1: the barrel goes round the hands instead of behind them. */
  casting: number;
  /** How far the hands are below the shoulder at foot strike, beyond sound. */
  handsLow: number;
  /** 0 to 1: the front leg stays bent through contact. */
  softFrontLeg: number;
  /** 0 to 1: the knees point inward between the feet. */
  kneesIn: number;
  stanceWidth: number;
  /** Above 1 the whole swing takes longer. */
  slowness: number;
  /** 0 to 1: how far the finish comes round. */
  finish: number;
}

export const SOUND: Style = {
  strideFootOpen: 42,
  strideLength: 0.2,
  legLift: 0.15,
  headDrift: 0,
  hipsEarly: 0,
  shouldersEarly: 0,
  casting: 0,
  handsLow: 0,
  softFrontLeg: 0,
  kneesIn: 0.45,
  stanceWidth: 0.62,
  slowness: 1,
  finish: 1,
};

export interface Hitter {
  bats: 'right' | 'left';
  body: Body;
  style: Style;
  bat: { length: number; barrelRadius: number };
  ballRadius: number;
  /** Where the ball sits on its tee: x and y in the plate's frame (for a right-handed hitter). */
  ballAt: readonly [x: number, y: number];
}

/** Seconds from contact of the instants that the curves are hung on. */
export interface Timing {
  loadStart: number;
  loadPeak: number;
  toe: number;
  plant: number;
  launch: number;
  lag: number;
  contact: 0;
  extension: number;
  wrap: number;
  finish: number;
}

export function timingOf(style: Style): Timing {
  const k = style.slowness;
  return {
    loadStart: -1.0 * k,
    loadPeak: -0.56 * k,
    toe: -0.215 * k,
    plant: -0.17 * k,
    launch: -0.125 * k,
    lag: -0.06 * k,
    contact: 0,
    extension: 0.045 * k,
    wrap: 0.145 * k,
    finish: 0.4 * k,
  };
}
