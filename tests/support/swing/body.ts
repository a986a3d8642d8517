/** Lengths of a body in metres. Every one stays the same through a swing. */
export interface Body {
  stature: number;
  /** Chin to crown. */
  head: number;
  /** Base of the neck to the middle of the head. */
  neck: number;
  /** Middle of the hips to the base of the neck. */
  trunk: number;
  shoulderHalf: number;
  hipHalf: number;
  upperArm: number;
  forearm: number;
  /** Wrist to the middle of the palm. */
  palm: number;
  thigh: number;
  shank: number;
  ankleHeight: number;
  /** Heel to the ball of the foot, and from there to the tip of the toes. */
  rearFoot: number;
  toes: number;
  /** Thickness of limbs and trunk relative to an adult of the same stature. */
  girth: number;
}

interface Build {
  stature: number;
  /** Shares of the stature. */
  head: number;
  leg: number;
  arm: number;
  shoulders: number;
  girth: number;
}

/**
 * Shares of the stature after the segment table of Drillis and Contini (1966), rounded and from memory:
 * head .130, hip joint .530 high, upper arm .172 from the joint centre, forearm .146, foot .152.
 * A child of 11 has a head of nearly adult size on a shorter body, so the head takes a larger share and limbs a smaller one.
 */
function bodyOf(b: Build): Body {
  const h = b.stature;
  const foot = 0.152 * h;
  const trunk = h * (1 - b.leg - b.head) - 0.035 * h;
  return {
    stature: h,
    head: b.head * h,
    neck: b.head * h * 0.5 + 0.035 * h,
    trunk,
    shoulderHalf: b.shoulders * h,
    hipHalf: 0.052 * h,
    upperArm: b.arm * h * 0.54,
    forearm: b.arm * h * 0.46,
    palm: 0.044 * h,
    thigh: (b.leg - 0.039) * h * 0.5,
    shank: (b.leg - 0.039) * h * 0.5,
    ankleHeight: 0.039 * h,
    rearFoot: foot * 0.7,
    toes: foot * 0.3,
    girth: b.girth,
  };
}

export const ADULT = bodyOf({ stature: 1.76, head: 0.13, leg: 0.53, arm: 0.318, shoulders: 0.106, girth: 1 });
export const FIFTEEN = bodyOf({
  stature: 1.66,
  head: 0.136,
  leg: 0.528,
  arm: 0.315,
  shoulders: 0.1,
  girth: 0.92,
});
export const ELEVEN = bodyOf({
  stature: 1.42,
  head: 0.156,
  leg: 0.508,
  arm: 0.304,
  shoulders: 0.098,
  girth: 0.94,
});
