import { describe, expect, it } from 'vitest';
import { calibrate } from '@/lib/domain/measures/calibrate';
import { FIELD_SOURCES } from '@/lib/domain/measures/field';
import type { MeasureInput } from '@/lib/domain/measures/measure';
import type { GroundName, JointName, MeasureName } from '@/lib/domain/measures/names';
import {
  CORNER_LABEL,
  JOINT_LABEL,
  jointList,
  MEASURE_LABEL,
  MEASURE_MEANING,
  VIEW_LABEL,
} from '@/lib/domain/measures/words';
import { JOINT_NAMES } from '@/lib/domain/measures/names';
import { timeBetween } from '@/lib/domain/measures/timing';
import { PLATE } from '../../support/measures/seen-swing';
import { buildInput, filmingFrom, measureOf } from './build-input';

// What people read, whole: to be read aloud when it changes.

const refusal = (input: MeasureInput) => {
  const calibrated = calibrate(input);
  return calibrated.ok ? 'not refused' : calibrated.sentence;
};
const reason = (input: MeasureInput, name: MeasureName) => measureOf(input, name).reason;
const input = buildInput();
const swapped = (a: GroundName, b: GroundName) => ({
  ...input,
  ground: input.ground.map((corner) => ({
    ...corner,
    at: corner.at === a ? b : corner.at === b ? a : corner.at,
  })),
});
const withPoint = (name: JointName, x: number, y: number) => ({
  ...input,
  points: { ...input.points, [name]: { x, y } },
});

describe('sentences', () => {
  it('of a calibration', () => {
    const plate = buildInput({ corners: PLATE });
    const line = {
      ...plate,
      ground: plate.ground.map((corner, i) => ({ ...corner, x: 300 + 90 * i, y: 500 })),
    };
    const mirrored = { ...plate, ground: plate.ground.map((corner) => ({ ...corner, x: 1920 - corner.x })) };
    const far = filmingFrom(0, { position: [0, -180, 40], target: [0, 0, 0], fieldOfView: 1 });
    const impossible = { ...buildInput({ filming: far }), focal: 960 / Math.tan(Math.PI / 360) };
    expect([
      refusal({ ...plate, ground: plate.ground.slice(0, 3) }),
      refusal(line),
      refusal(mirrored),
      refusal(swapped('plate-front-third', 'plate-front-first')),
      refusal({
        ...input,
        ground: input.ground.map((corner) =>
          corner.at === 'box-inner-rear' ? { ...corner, x: corner.x + 40 } : corner,
        ),
      }),
      refusal(impossible),
    ]).toMatchInlineSnapshot(`
      [
        "At least 4 corners are needed; 3 are set. The plate alone has five.",
        "The corners lie in one line on the picture, so the ground cannot be found. Set corners on both sides of the plate, or film from higher up.",
        "The corners go round the wrong way, as in a mirror. Check which side is third base and which side the hitter bats from, or whether the clip was mirrored by the phone.",
        "Two corners are mixed up: their lines cross. Check the names of the corners and the side the hitter bats from.",
        "The corners do not fit a plate and box of this field. 18.3 pixels off is the box’s rear corner next to the plate: set it again, or check the field type.",
        "No camera could have seen these corners like that. Check their names, the field type and the side the hitter bats from, then set them again.",
      ]
    `);
  });

  it('of a measure', () => {
    const lifted = (joint: JointName) => ({ ...input, lifted: [joint] });
    const { points } = input;
    const exchanged = {
      ...points,
      'stride-heel': points['rear-heel']!,
      'stride-toe': points['rear-toe']!,
      'rear-heel': points['stride-heel']!,
      'rear-toe': points['stride-toe']!,
    };
    const from = (azimuth: number) => buildInput({ filming: filmingFrom(azimuth), clickSd: 0.5 });
    expect([
      reason({ ...input, points: {} }, 'stride-foot-openness'),
      reason(withPoint('head', -9, 0), 'head-ahead-of-belt'),
      reason(withPoint('stride-toe', 900, 20), 'stride-foot-openness'),
      reason(
        {
          ...input,
          points: { ...points, 'stride-heel': { x: 300, y: 470 }, 'stride-toe': { x: 330, y: 472 } },
        },
        'stride-foot-openness',
      ),
      reason(
        withPoint('stride-toe', points['stride-heel']!.x + 3, points['stride-heel']!.y),
        'stride-foot-openness',
      ),
      reason({ ...input, points: exchanged }, 'stride-length'),
      reason(lifted('stride-toe'), 'stride-foot-openness'),
      reason(lifted('rear-heel'), 'stride-length'),
      reason({ ...buildInput({ corners: PLATE }), clickSd: 9 }, 'stride-foot-openness'),
      reason(from(90), 'stride-length'),
      reason(from(30), 'trunk-lean'),
      reason(from(90), 'trunk-lean'),
      reason(input, 'front-knee-flexion'),
      reason(input, 'hip-openness'),
      reason(input, 'shoulder-openness'),
    ]).toMatchInlineSnapshot(`
      [
        "Set the heel of the stride foot and the toe of the stride foot on the frame of foot strike.",
        "Outside the picture: the head. Set it anew, or film from further away.",
        "A point lies at or above the horizon of this camera, so it cannot be on the ground. Check the points.",
        "The stride foot comes out 11.6 m from the middle of the box. Check that the points are on the hitter and that the corners are those of this clip.",
        "The stride foot comes out 1 cm long. Set heel and toe anew, where the sole meets the ground.",
        "The stride foot comes out further from the pitcher than the rear foot. Check which foot is which.",
        "The stride foot is still in the air here. Pick a frame on which its toe is down.",
        "Off the ground: the heel of the rear foot, so its place on the ground is a guess. Pick a frame with the foot flat to measure it.",
        "The clicks leave too much room here. Set the corners of the box too, use the loupe, or film nearer and from higher up.",
        "From 90° off square a stride comes out 4 to 6 cm wrong in our trials with simulated cameras. Film square from the open side, straight across from the middle of the hitter’s feet, to measure it.",
        "The camera stands 30° off square, which shifts this number. Film square from the open side, straight across from the middle of the hitter’s feet (within 10°), to measure it.",
        "The camera stands 90° off square, so the picture does not show this. Film square from the open side, straight across from the middle of the hitter’s feet (within 10°).",
        "The bend of a knee on the picture is not its real bend: a leg turned away from the camera looks straighter (a real 40° looks like 29° with the foot at 45°). No single camera shows it; measure the front knee past the ankle from the open side instead.",
        "A single camera does not show how far the hips are turned: from the side a turn hardly moves anything on the picture, from in front or behind it is too unsure. Judge it by eye from behind or in front.",
        "A single camera does not show how far the shoulders are turned: from the side a turn hardly moves anything on the picture, from in front or behind it is too unsure. Judge it by eye from behind or in front.",
      ]
    `);
  });

  it('of a time', () => {
    const of = (from: number | null, to: number | null, rate: number | null) =>
      timeBetween({ name: 'load', at: from }, { name: 'foot strike', at: to }, rate).standing.reason;
    expect([of(null, 5, 60), of(null, null, 60), of(0, 5, null), of(5, 0, 60), of(0, 5, 60), of(0, 500, 30)])
      .toMatchInlineSnapshot(`
      [
        "Pin load on this clip to get this time.",
        "Pin load and foot strike on this clip to get this time.",
        "How many pictures a second the camera took is not known, so frames cannot be turned into time. Ask the player for the rate the phone was set to.",
        "Foot strike is pinned before load. Check the two pins.",
        "The two moments lie less than 2 frames apart, which is too short for this clip’s rate. Film with more pictures a second.",
        "At 30 pictures a second a frame lasts 33 ms. Film with 120 or more to measure it.",
      ]
    `);
    expect(reason({ ...input, moments: { captureRate: 60 } }, 'load-to-foot-strike')).toContain(
      'Pin load and foot strike',
    );
    expect(reason({ ...input, moments: { captureRate: 60 } }, 'foot-strike-to-contact')).toContain(
      'Pin foot strike and contact',
    );
  });
});

describe('names', () => {
  it.each([
    ['corners', CORNER_LABEL],
    ['points', JOINT_LABEL],
    ['measures', MEASURE_LABEL],
    ['meanings', MEASURE_MEANING],
    ['views', VIEW_LABEL],
    ['fields', FIELD_SOURCES],
  ])('of %s are all there and all different', (_, labels) => {
    const words = Object.values(labels);
    expect(words.every((word) => word.length > 4)).toBe(true);
    expect(new Set(words).size).toBe(words.length);
  });

  it('are listed as one says them', () => {
    expect(jointList([])).toBe('');
    expect(jointList(['head'])).toBe('the head');
    expect(jointList(['head', 'belt'])).toBe('the head and the belt');
    const list = jointList(JOINT_NAMES).split(/, | and /);
    expect(list).toHaveLength(JOINT_NAMES.length);
    expect(new Set(list).size).toBe(JOINT_NAMES.length);
    expect(list.every((name) => /^the \w+/.test(name))).toBe(true);
  });
});
