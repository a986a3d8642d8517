import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ADULT, ELEVEN, FIFTEEN, type Body } from '../support/swing/body';
import { DEMO_CLIPS, frameCount, timeOfFrame } from '../support/swing/demo-clips';
import { JOINTS, type Joint, type Joints } from '../support/swing/pose';
import { BOX } from '../support/swing/plate';
import { SOUND, type Hitter, type Style } from '../support/swing/style';
import { swingOf } from '../support/swing/swing';
import { distance, sub, unit, dot, type Vec3 } from '../support/swing/vec';

const MILLIMETRE = 0.001;

const styles: fc.Arbitrary<Style> = fc
  .record({
    strideFootOpen: fc.integer({ min: 20, max: 85 }),
    strideLength: fc.double({ min: 0.1, max: 0.28, noNaN: true }),
    legLift: fc.double({ min: 0.04, max: 0.25, noNaN: true }),
    headDrift: fc.double({ min: 0, max: 0.1, noNaN: true }),
    hipsEarly: fc.integer({ min: 0, max: 25 }),
    shouldersEarly: fc.integer({ min: 0, max: 25 }),
    casting: fc.double({ min: 0, max: 1, noNaN: true }),
    handsLow: fc.double({ min: 0, max: 0.15, noNaN: true }),
    softFrontLeg: fc.double({ min: 0, max: 1, noNaN: true }),
    slowness: fc.double({ min: 0.9, max: 1.3, noNaN: true }),
    finish: fc.double({ min: 0.4, max: 1, noNaN: true }),
  })
  .map((style) => ({ ...SOUND, ...style }));

const hitters: fc.Arbitrary<Hitter> = fc.record({
  bats: fc.constantFrom('right' as const, 'left' as const),
  body: fc.constantFrom(ADULT, FIFTEEN, ELEVEN),
  style: styles,
  bat: fc.record({
    length: fc.double({ min: 0.66, max: 0.86, noNaN: true }),
    barrelRadius: fc.constant(0.03),
  }),
  ballRadius: fc.constant(0.037),
  ballAt: fc.constant([0.48, 0] as const),
});

const times = fc.double({ min: -1.6, max: 0.8, noNaN: true });

const BONES: readonly (readonly [Joint, Joint, (body: Body) => number])[] = (
  ['left', 'right'] as const
).flatMap((side) => [
  [`${side}Hip`, `${side}Knee`, (b: Body) => b.thigh] as const,
  [`${side}Knee`, `${side}Ankle`, (b: Body) => b.shank] as const,
  [`${side}Shoulder`, `${side}Elbow`, (b: Body) => b.upperArm] as const,
  [`${side}Elbow`, `${side}Wrist`, (b: Body) => b.forearm] as const,
  [`${side}Heel`, `${side}Ball`, (b: Body) => b.rearFoot] as const,
  [`${side}Ball`, `${side}Toe`, (b: Body) => b.toes] as const,
]);

function lengthsOf(joints: Joints): number[] {
  return BONES.map(([from, to]) => distance(joints[from], joints[to]));
}

describe('a body', () => {
  it('keeps the length of every bone at every time', () => {
    fc.assert(
      fc.property(hitters, times, (hitter, time) => {
        const { joints } = swingOf(hitter).poseAt(time);
        lengthsOf(joints).forEach((found, i) => expect(found).toBeCloseTo(BONES[i]![2](hitter.body), 6));
        expect(distance(joints.leftHip, joints.rightHip)).toBeCloseTo(hitter.body.hipHalf * 2, 6);
        expect(distance(joints.leftShoulder, joints.rightShoulder)).toBeCloseTo(
          hitter.body.shoulderHalf * 2,
          6,
        );
        expect(distance(joints.pelvis, joints.neck)).toBeCloseTo(hitter.body.trunk, 6);
        expect(distance(joints.neck, joints.head)).toBeLessThanOrEqual(hitter.body.neck + 1e-9);
        expect(distance(joints.batKnob, joints.batTip)).toBeCloseTo(hitter.bat.length, 6);
      }),
      { numRuns: 200 },
    );
  });

  it('gives a child a larger head and shorter limbs for its height', () => {
    const shares = (b: Body) => ({
      head: b.head / b.stature,
      leg: (b.thigh + b.shank) / b.stature,
      arm: (b.upperArm + b.forearm) / b.stature,
    });
    const [child, grown] = [shares(ELEVEN), shares(ADULT)];
    expect(child.head).toBeGreaterThan(grown.head * 1.1);
    expect(child.leg).toBeLessThan(grown.leg);
    expect(child.arm).toBeLessThan(grown.arm);
  });
});

describe('feet', () => {
  it('never go below the ground, and stand still on it when planted', () => {
    fc.assert(
      fc.property(hitters, times, (hitter, time) => {
        const swing = swingOf(hitter);
        const { joints } = swing.poseAt(time);
        for (const side of ['left', 'right'] as const) {
          for (const part of ['Heel', 'Ball', 'Toe'] as const)
            expect(joints[`${side}${part}`][2]).toBeGreaterThan(-MILLIMETRE);
        }
        const [lead, trail] =
          hitter.bats === 'right' ? (['left', 'right'] as const) : (['right', 'left'] as const);
        const anchor = swing.poseAt(-1.6).joints[`${trail}Ball`];
        expect(distance(joints[`${trail}Ball`], anchor)).toBeLessThan(MILLIMETRE);
        if (time < swing.timing.plant) return;
        const planted = swing.poseAt(swing.timing.plant).joints;
        expect(distance(joints[`${lead}Heel`], planted[`${lead}Heel`])).toBeLessThan(MILLIMETRE);
        expect(joints[`${lead}Heel`][2]).toBeCloseTo(0, 6);
        expect(joints[`${lead}Toe`][2]).toBeCloseTo(0, 6);
      }),
      { numRuns: 200 },
    );
  });

  it('touch with the toes first and the heel later', () => {
    for (const { hitter } of DEMO_CLIPS) {
      const swing = swingOf(hitter);
      const lead = hitter.bats === 'right' ? 'left' : 'right';
      const at = (time: number) => swing.poseAt(time).joints;
      expect(at(swing.timing.toe)[`${lead}Ball`][2]).toBeCloseTo(0, 6);
      expect(at(swing.timing.toe)[`${lead}Heel`][2]).toBeGreaterThan(0.02);
      expect(at(swing.timing.toe - 0.05)[`${lead}Ball`][2]).toBeGreaterThan(0.005);
      expect(at(swing.timing.plant)[`${lead}Heel`][2]).toBeCloseTo(0, 6);
    }
  });

  it('opens as far as it is told, measured on the ground from square', () => {
    fc.assert(
      fc.property(hitters, (hitter) => {
        const swing = swingOf(hitter);
        const { joints } = swing.poseAt(swing.timing.plant);
        const lead = hitter.bats === 'right' ? 'left' : 'right';
        const line = sub(joints[`${lead}Toe`], joints[`${lead}Heel`]);
        const towardPlate = hitter.bats === 'right' ? -line[1] : line[1];
        expect((Math.atan2(line[0], towardPlate) * 180) / Math.PI).toBeCloseTo(
          hitter.style.strideFootOpen,
          6,
        );
      }),
    );
  });

  it('stand inside the batter’s box for every clip', () => {
    for (const clip of DEMO_CLIPS) {
      const { joints } = swingOf(clip.hitter).poseAt(clip.start);
      for (const side of ['left', 'right'] as const) {
        const out = Math.abs(joints[`${side}Ball`][1]);
        expect(out).toBeGreaterThan(8.5 * 0.0254 + BOX.gap);
        expect(out).toBeLessThan(8.5 * 0.0254 + BOX.gap + BOX.width);
      }
    }
  });
});

describe('contact', () => {
  it('brings the barrel to the ball at time 0 and sends the ball to the pitcher', () => {
    fc.assert(
      fc.property(hitters, (hitter) => {
        const swing = swingOf(hitter);
        const { bat, ball } = swing.poseAt(0);
        expect(distance(bat.sweetSpot, ball)).toBeCloseTo(hitter.bat.barrelRadius + hitter.ballRadius, 6);
        expect(ball).toEqual(swing.ballAt);
        expect(swing.poseAt(0.05).ball[0]).toBeGreaterThan(ball[0] + 1);
        expect(swing.poseAt(-0.4).ball).toEqual(ball);
      }),
    );
  });

  it('is nearer than any other time to where the barrel passes the ball', () => {
    for (const { hitter, name } of DEMO_CLIPS) {
      const swing = swingOf(hitter);
      const gap = (time: number) => distance(swing.poseAt(time).bat.sweetSpot, swing.ballAt);
      for (const time of [-0.1, -0.05, -0.02]) expect(gap(time), name).toBeGreaterThan(gap(0));
    }
  });

  it('has a barrel that speeds up to contact and never jumps', () => {
    for (const { hitter, name } of DEMO_CLIPS) {
      const swing = swingOf(hitter);
      const speed = (time: number) =>
        distance(swing.poseAt(time + 0.001).bat.sweetSpot, swing.poseAt(time - 0.001).bat.sweetSpot) / 0.002;
      expect(speed(-0.01), name).toBeGreaterThan(speed(swing.timing.launch));
      expect(speed(-0.01), name).toBeGreaterThan(12);
      for (let time = -1.4; time < 0.7; time += 0.004)
        expect(speed(time), `${name} at ${time}`).toBeLessThan(48);
    }
  });
});

describe('events', () => {
  it('come in order', () => {
    fc.assert(
      fc.property(hitters, (hitter) => {
        const t = swingOf(hitter).timing;
        const order = [
          t.loadStart,
          t.loadPeak,
          t.toe,
          t.plant,
          t.launch,
          t.lag,
          t.contact,
          t.extension,
          t.wrap,
          t.finish,
        ];
        expect(order).toEqual([...order].sort((a, b) => a - b));
        expect(new Set(order).size).toBe(order.length);
      }),
    );
  });
});

describe('hands', () => {
  it('mirror: a left-handed swing is the right-handed one across the plate’s middle line', () => {
    fc.assert(
      fc.property(hitters, times, (hitter, time) => {
        const right = swingOf({ ...hitter, bats: 'right' }).poseAt(time).joints;
        const left = swingOf({ ...hitter, bats: 'left' }).poseAt(time).joints;
        for (const joint of JOINTS) {
          const other = joint.replace(/^left|^right/, (side) =>
            side === 'left' ? 'right' : 'left',
          ) as Joint;
          const across: Vec3 = [right[joint][0], -right[joint][1], right[joint][2]];
          expect(distance(left[other], across)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('hold the bat, both of them, all the time', () => {
    fc.assert(
      fc.property(hitters, times, (hitter, time) => {
        const { arms, bat } = swingOf(hitter).poseAt(time);
        for (const arm of [arms.lead, arms.trail]) {
          const along = sub(arm.grip, bat.knob);
          expect(distance(arm.grip, bat.knob)).toBeLessThan(0.25);
          expect(dot(unit(along), bat.direction)).toBeCloseTo(1, 6);
          expect(distance(arm.wrist, arm.grip)).toBeLessThan(hitter.body.palm * 1.05);
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe('faults', () => {
  const at = (style: Partial<Style>) => {
    const swing = swingOf({
      bats: 'right',
      body: ADULT,
      style: { ...SOUND, ...style },
      bat: { length: 0.84, barrelRadius: 0.03 },
      ballRadius: 0.037,
      ballAt: [0.48, 0],
    });
    return { ...swing.poseAt(swing.timing.plant), lag: swing.poseAt(swing.timing.lag) };
  };

  it('show in the joints they are about', () => {
    const sound = at({});
    const overFeet = (pose: ReturnType<typeof at>) =>
      pose.joints.head[0] - (pose.joints.leftBall[0] + pose.joints.rightBall[0]) / 2;
    const hipLine = (pose: ReturnType<typeof at>) => {
      const line = sub(pose.joints.leftHip, pose.joints.rightHip);
      return (Math.atan2(line[1], line[0]) * 180) / Math.PI;
    };
    expect(overFeet(at({ headDrift: 0.08 }))).toBeGreaterThan(overFeet(sound) + 0.04);
    expect(hipLine(at({ hipsEarly: 15 }))).toBeGreaterThan(hipLine(sound) + 10);
    expect(at({ handsLow: 0.1 }).arms.lead.grip[2]).toBeLessThan(sound.arms.lead.grip[2] - 0.05);
    // A cast barrel is already on its way round when a sound one still points at the catcher.
    expect(at({ casting: 1 }).lag.bat.direction[1]).toBeLessThan(sound.lag.bat.direction[1] - 0.25);
  });
});

describe('demo clips', () => {
  it('show one swing from two places where a lesson has two views', () => {
    const [side, rear] = ['fifteen-2-open-side', 'fifteen-2-behind'].map((name) =>
      DEMO_CLIPS.find((clip) => clip.name === name)!,
    );
    expect(side!.hitter).toEqual(rear!.hitter);
  });

  it('keep bones constant over the frames of each file', () => {
    for (const clip of DEMO_CLIPS) {
      const swing = swingOf(clip.hitter);
      const first = lengthsOf(swing.poseAt(clip.start).joints);
      for (let frame = 0; frame < frameCount(clip); frame++) {
        lengthsOf(swing.poseAt(timeOfFrame(clip, frame)).joints).forEach((value, i) =>
          expect(value).toBeCloseTo(first[i]!, 6),
        );
      }
    }
  });

  it('show the stride foot of the same player closing from lesson to lesson', () => {
    const open = [1, 2, 3].map(
      (lesson) =>
        DEMO_CLIPS.find((clip) => clip.person === 'fifteen' && clip.lesson === lesson)!.hitter.style
          .strideFootOpen,
    );
    expect(open).toEqual([75, 61, 47]);
  });
});
