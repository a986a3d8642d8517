import { describe, expect, it } from 'vitest';
import { measuresOf, type MeasureInput } from '@/lib/domain/measures/measure';
import { JOINT_NAMES, MEASURE_NAMES, type JointName, type MeasureName } from '@/lib/domain/measures/names';
import { chanceOf } from '../../support/measures/filming';
import { PLATE, truthOf } from '../../support/measures/seen-swing';
import { seeded } from '../../support/swing/scene/random';
import { buildBody, buildInput, filmingFrom, filmingOf, halfOf, measureOf } from './build-input';

const SIDE_ONLY = ['head-ahead-of-belt', 'front-knee-past-ankle', 'trunk-lean', 'shoulder-tilt'] as const;
const ALL = ['stride-foot-openness', 'stride-length', ...SIDE_ONLY] as const;
const from = (azimuth: number, input: Partial<MeasureInput> = {}) => ({
  ...buildInput({ filming: filmingFrom(azimuth), clickSd: 0.5 }),
  ...input,
});
const statusFrom = (azimuth: number, name: MeasureName) => measureOf(from(azimuth), name).status;
const without = (input: MeasureInput, ...names: JointName[]): MeasureInput => ({
  ...input,
  points: Object.fromEntries(
    Object.entries(input.points).filter(([name]) => !names.includes(name as JointName)),
  ),
});
const movePoint = (input: MeasureInput, name: JointName, to: { x: number; y: number }): MeasureInput => ({
  ...input,
  points: { ...input.points, [name]: to },
});

describe('the measures of a swing', () => {
  it('are told in one order, each with its unit, value and interval or with its reason', () => {
    const { measures } = measuresOf(buildInput());
    expect(measures.map(({ name }) => name)).toEqual(MEASURE_NAMES);
    for (const measure of measures) {
      if (measure.status === 'refused') {
        expect(measure).toMatchObject({ value: null, interval: null, reason: expect.stringMatching(/\.$/) });
      } else {
        const [low, high] = measure.interval!;
        expect((low + high) / 2).toBeCloseTo(measure.value!, 9);
        expect(high).toBeGreaterThan(low);
        expect(measure.reason === null).toBe(measure.status === 'measured');
      }
    }
    const units = Object.fromEntries(measures.map(({ name, unit }) => [name, unit]));
    expect(units).toMatchObject({
      'stride-foot-openness': 'deg',
      'stride-length': 'cm',
      'head-ahead-of-belt': 'cm',
      'front-knee-past-ankle': 'cm',
      'trunk-lean': 'deg',
      'shoulder-tilt': 'deg',
      'front-knee-flexion': 'deg',
      'load-to-foot-strike': 'ms',
      'foot-strike-to-contact': 'ms',
    });
  });

  it('have the signs that their meaning says', () => {
    const body = { ...buildBody('right', 42) };
    const shifted = (name: JointName, dx: number, dz: number) => ({
      ...body,
      [name]: [body[name][0] + dx, body[name][1], body[name][2] + dz] as const,
    });
    const value = (changed: typeof body, name: MeasureName) =>
      measureOf(buildInput({ body: changed, clickSd: 0 }), name).value!;
    expect(
      value(shifted('head', 0.1, 0), 'head-ahead-of-belt') - value(body, 'head-ahead-of-belt'),
    ).toBeCloseTo(10, 4);
    expect(
      value(shifted('front-knee', 0.07, 0), 'front-knee-past-ankle') - value(body, 'front-knee-past-ankle'),
    ).toBeCloseTo(7, 4);
    expect(value(shifted('belt', -0.1, 0), 'trunk-lean')).toBeGreaterThan(value(body, 'trunk-lean'));
    expect(value(shifted('front-shoulder', 0, 0.05), 'shoulder-tilt')).toBeGreaterThan(
      value(body, 'shoulder-tilt'),
    );
  });
});

describe('what may be said from where', () => {
  it('is everything square from the open side and from behind the back', () => {
    for (const azimuth of [0, 8, -8, 176, -174]) {
      for (const name of ALL) expect(statusFrom(azimuth, name), `${name} from ${azimuth}`).toBe('measured');
    }
  });

  it('is an estimate 30 degrees off square, with the better view in its reason', () => {
    for (const name of SIDE_ONLY) {
      const measure = measureOf(from(30), name);
      expect(measure).toMatchObject({
        status: 'estimate',
        reason: expect.stringContaining('Film square from the open side'),
      });
      expect(measure.reason).toContain('30° off square');
      expect(statusFrom(-30, name)).toBe('estimate');
      expect(statusFrom(150, name)).toBe('estimate');
    }
  });

  it('is the foot alone from in front and from behind, and its stride as an estimate', () => {
    for (const azimuth of [90, -90, 60, -60, 120]) {
      expect(statusFrom(azimuth, 'stride-foot-openness')).toBe('measured');
      expect(measureOf(from(azimuth), 'stride-length')).toMatchObject({
        status: 'estimate',
        reason: expect.stringContaining('Film square from the open side'),
      });
      for (const name of SIDE_ONLY)
        expect(measureOf(from(azimuth), name)).toMatchObject({
          status: 'refused',
          reason: expect.stringContaining('Film square from the open side'),
        });
    }
  });

  it('changes at 10, 15 and 35 degrees off square', () => {
    expect(statusFrom(10.4, 'head-ahead-of-belt')).toBe('measured');
    expect(statusFrom(11, 'head-ahead-of-belt')).toBe('estimate');
    expect(statusFrom(34, 'head-ahead-of-belt')).toBe('estimate');
    expect(statusFrom(36, 'head-ahead-of-belt')).toBe('refused');
    expect(statusFrom(15, 'stride-length')).toBe('measured');
    expect(statusFrom(17, 'stride-length')).toBe('estimate');
  });

  it('is never the bend of a knee nor the turn of hips or shoulders', () => {
    for (const azimuth of [0, 90]) {
      expect(measureOf(from(azimuth), 'front-knee-flexion').reason).toContain('No single camera shows it');
      expect(measureOf(from(azimuth), 'hip-openness').reason).toContain('from behind or in front');
      expect(measureOf(from(azimuth), 'shoulder-openness').reason).toContain('from behind or in front');
    }
  });

  it('is less when the clicks leave too much room', () => {
    const input = (clickSd: number) => ({ ...buildInput({ corners: PLATE }), clickSd });
    const of = (clickSd: number) => measureOf(input(clickSd), 'stride-foot-openness');
    expect(of(0.5).status).toBe('measured');
    expect(of(4)).toMatchObject({ status: 'estimate', reason: expect.stringContaining('too much room') });
    expect(halfOf(of(4))).toBeGreaterThan(15);
    expect(of(9)).toMatchObject({ status: 'refused', reason: expect.stringContaining('too much room') });
  });
});

describe('a measure is refused', () => {
  it.each(JOINT_NAMES)('without %s, by name', (joint) => {
    const { measures } = measuresOf(without(buildInput(), joint));
    const asked = measures.filter(({ reason }) => reason?.startsWith('Set the '));
    expect(asked.length).toBeGreaterThan(0);
    for (const { reason } of asked) expect(reason).toContain('on the frame of foot strike');
    expect(measureOf(buildInput(), asked[0]!.name).status).toBe('measured');
  });

  it('and names everything that is missing', () => {
    const input = without(buildInput(), 'stride-heel', 'stride-toe', 'head');
    expect(measureOf(input, 'stride-foot-openness').reason).toBe(
      'Set the heel of the stride foot and the toe of the stride foot on the frame of foot strike.',
    );
    expect(measureOf(input, 'head-ahead-of-belt').reason).toContain(
      'the heel of the stride foot, the toe of the stride foot and the head',
    );
  });

  it('when a point lies outside the picture', () => {
    const input = movePoint(buildInput(), 'head', { x: 900, y: -40 });
    expect(measureOf(input, 'head-ahead-of-belt').reason).toContain('Outside the picture: the head');
    expect(measureOf(input, 'front-knee-past-ankle').status).toBe('measured');
  });

  it('when a foot lies above the horizon', () => {
    const input = movePoint(buildInput(), 'stride-toe', { x: 900, y: 20 });
    expect(measureOf(input, 'stride-foot-openness').reason).toContain('above the horizon');
  });

  it('when the feet are not those of this hitter', () => {
    const input = buildInput();
    const far = { ...input.points, 'stride-heel': { x: 300, y: 470 }, 'stride-toe': { x: 330, y: 472 } };
    expect(measureOf({ ...input, points: far }, 'stride-foot-openness').reason).toMatch(
      /m from the middle of the box/,
    );
  });

  it('when heel and toe are no foot', () => {
    const input = buildInput();
    const heel = input.points['stride-heel']!;
    const short = movePoint(input, 'stride-toe', { x: heel.x + 5, y: heel.y });
    expect(measureOf(short, 'stride-foot-openness').reason).toMatch(/comes out \d cm long/);
    const long = movePoint(input, 'stride-toe', { x: heel.x + 260, y: heel.y });
    expect(measureOf(long, 'stride-foot-openness').reason).toMatch(/comes out [6-9]\d cm long/);
    const rear = movePoint(input, 'rear-toe', input.points['rear-heel']!);
    expect(measureOf(rear, 'stride-length').reason).toContain('The rear foot comes out 0 cm long');
    expect(measureOf(rear, 'stride-foot-openness').status).toBe('measured');
  });

  it('when the feet are exchanged', () => {
    const input = buildInput();
    const { points } = input;
    const exchanged = {
      ...points,
      'stride-heel': points['rear-heel']!,
      'stride-toe': points['rear-toe']!,
      'rear-heel': points['stride-heel']!,
      'rear-toe': points['stride-toe']!,
    };
    expect(measureOf({ ...input, points: exchanged }, 'stride-length').reason).toContain(
      'which foot is which',
    );
  });

  it('when the toe is in the air; a lifted heel is an estimate and far less sure', () => {
    const flat = measureOf(from(0), 'stride-foot-openness');
    const heel = measureOf(from(0, { lifted: ['stride-heel'] }), 'stride-foot-openness');
    expect(heel).toMatchObject({
      status: 'estimate',
      reason: expect.stringContaining('the heel of the stride foot'),
    });
    expect(halfOf(heel)).toBeGreaterThan(1.5 * halfOf(flat));
    expect(measureOf(from(0, { lifted: ['stride-toe'] }), 'stride-foot-openness')).toMatchObject({
      status: 'refused',
      reason: expect.stringContaining('still in the air'),
    });
    expect(measureOf(from(0, { lifted: ['rear-heel'] }), 'stride-foot-openness').status).toBe('measured');
    expect(measureOf(from(0, { lifted: ['rear-heel'] }), 'stride-length').status).toBe('estimate');
    expect(measureOf(from(0, { lifted: ['rear-heel'] }), 'head-ahead-of-belt').status).toBe('measured');
  });

  it('corrects a lifted heel by the height it is taken to have', () => {
    const body = buildBody('right', 42);
    const [x, y] = body['stride-heel'];
    const lifted = { ...body, 'stride-heel': [x, y, 0.03] as const };
    const input = { ...buildInput({ body: lifted, clickSd: 0 }), lifted: ['stride-heel'] as JointName[] };
    expect(measureOf(input, 'stride-foot-openness').value).toBeCloseTo(42, 4);
  });
});

describe('several frames of a planted foot', () => {
  const chance = chanceOf(seeded(77));
  const filming = filmingOf('side');
  const body = buildBody('right', 50);
  const again = () => buildInput({ filming, body, chance }).points;

  it('are averaged, and make the foot surer', () => {
    const input = buildInput({ filming, body, corners: PLATE, chance });
    const alone = measureOf(input, 'stride-foot-openness');
    const several = measureOf({ ...input, planted: [again(), again(), again()] }, 'stride-foot-openness');
    expect(halfOf(several)).toBeLessThan(0.75 * halfOf(alone));
    expect(several.value).not.toBe(alone.value);
    const truth = truthOf(body, 'right')['stride-foot-openness'];
    expect(Math.abs(several.value! - truth)).toBeLessThan(halfOf(several));
  });

  it('are left out where the foot is not where it came down, is half there or outside the picture', () => {
    const input = buildInput({ filming, body });
    const moved = Object.fromEntries(
      Object.entries(again()).map(([name, { x, y }]) => [name, { x: x + 40, y }]),
    );
    const { 'stride-heel': heel } = again();
    const planted = [
      moved,
      { 'stride-heel': heel! },
      { 'stride-heel': heel!, 'stride-toe': { x: -50, y: 0 } },
      {},
    ];
    expect(measuresOf({ ...input, planted }).measures).toEqual(measuresOf(input).measures);
  });

  it('never stand in for the frame of foot strike', () => {
    const input = without(buildInput({ filming, body }), 'stride-heel');
    expect(measureOf({ ...input, planted: [again()] }, 'stride-foot-openness').status).toBe('refused');
  });
});
