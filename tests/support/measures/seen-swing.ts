import { groundPoint } from '@/lib/domain/measures/field';
import type { MeasureInput } from '@/lib/domain/measures/measure';
import { GROUND_NAMES, type GroundName, type JointName } from '@/lib/domain/measures/names';
import type { SpaceMeasure } from '@/lib/domain/measures/quantities';
import { ADULT, ELEVEN, FIFTEEN } from '../swing/body';
import { DEMO_CLIPS } from '../swing/demo-clips';
import type { Pose } from '../swing/pose';
import { SOUND, type Hitter } from '../swing/style';
import type { Vec3 } from '../swing/vec';
import { between, oneOf, seenAt, type Chance, type Filming } from './filming';

/** The points that are clicked, in space. */
export type Body = Readonly<Record<JointName, Vec3>>;

export const PLATE = GROUND_NAMES.filter((name) => name.startsWith('plate'));

/** Somebody who swings in some way: openness of the stride foot from 10 to 85 degrees. */
export function aHitter(chance: Chance): Hitter {
  const like = oneOf(chance, DEMO_CLIPS).hitter;
  return {
    ...like,
    bats: oneOf(chance, ['right', 'left'] as const),
    body: oneOf(chance, [ADULT, FIFTEEN, ELEVEN]),
    style: {
      ...SOUND,
      strideFootOpen: between(chance, 10, 85),
      strideLength: between(chance, 0.1, 0.3),
      stanceWidth: between(chance, 0.5, 0.75),
      headDrift: between(chance, 0, 0.09),
      hipsEarly: between(chance, 0, 14),
      shouldersEarly: between(chance, 0, 16),
      softFrontLeg: chance.even(),
      kneesIn: between(chance, 0.2, 0.7),
    },
  };
}

/** The clicked points of a pose, by what they are to the hitter. */
export function bodyOf({ joints }: Pose, bats: Hitter['bats']): Body {
  const [front, rear] = bats === 'right' ? (['left', 'right'] as const) : (['right', 'left'] as const);
  return {
    'stride-heel': joints[`${front}Heel`],
    'stride-toe': joints[`${front}Toe`],
    'rear-heel': joints[`${rear}Heel`],
    'rear-toe': joints[`${rear}Toe`],
    head: joints.head,
    belt: joints.beltBuckle,
    'front-knee': joints[`${front}Knee`],
    'front-ankle': joints[`${front}Ankle`],
    'front-shoulder': joints[`${front}Shoulder`],
    'rear-shoulder': joints[`${rear}Shoulder`],
  };
}

const middleY = (body: Body) =>
  (body['stride-heel'][1] + body['stride-toe'][1] + body['rear-heel'][1] + body['rear-toe'][1]) / 4;

/** The same with the soles on the ground and all else in the upright plane through the middle of the feet. */
export function flattened(body: Body): Body {
  const y = middleY(body);
  const flat = (name: JointName, [px, py, pz]: Vec3): Vec3 =>
    /-(heel|toe)$/.test(name) ? [px, py, 0] : [px, y, pz];
  return Object.fromEntries(
    Object.entries(body).map(([name, at]) => [name, flat(name as JointName, at)]),
  ) as unknown as Body;
}

/** What each measure is in space, worked out without any camera. */
export function truthOf(body: Body, bats: Hitter['bats']): Record<SpaceMeasure, number> {
  const degrees = (radians: number) => (radians * 180) / Math.PI;
  const ahead = (a: JointName, b: JointName) => 100 * (body[b][0] - body[a][0]);
  const side = bats === 'right' ? 1 : -1;
  const [heel, toe] = [body['stride-heel'], body['stride-toe']];
  const middle = (foot: 'stride' | 'rear', i: 0 | 1) =>
    (body[`${foot}-heel`][i] + body[`${foot}-toe`][i]) / 2;
  const [front, rear] = [body['front-shoulder'], body['rear-shoulder']];
  return {
    'stride-foot-openness': degrees(Math.atan2(toe[0] - heel[0], -side * (toe[1] - heel[1]))),
    'stride-length':
      100 * Math.hypot(middle('stride', 0) - middle('rear', 0), middle('stride', 1) - middle('rear', 1)),
    'head-ahead-of-belt': ahead('belt', 'head'),
    'front-knee-past-ankle': ahead('front-ankle', 'front-knee'),
    'trunk-lean': degrees(
      Math.atan2((front[0] + rear[0]) / 2 - body.belt[0], (front[2] + rear[2]) / 2 - body.belt[2]),
    ),
    'shoulder-tilt': degrees(Math.atan2(front[2] - rear[2], front[0] - rear[0])),
  };
}

/** What somebody clicks whose hand scatters by `clickSd` pixels (by nothing without `chance`). */
export function clicked(
  filming: Filming,
  body: Body,
  facts: Pick<MeasureInput, 'bats' | 'field' | 'clickSd'>,
  corners: readonly GroundName[],
  chance: Chance | null,
): MeasureInput {
  const scatter = () => (chance ? chance.normal() * facts.clickSd : 0);
  const click = (point: Vec3) => {
    const { x, y } = seenAt(filming, point);
    return { x: x + scatter(), y: y + scatter() };
  };
  return {
    ...facts,
    frame: { width: filming.width, height: filming.height },
    ground: corners.map((at) => ({ at, ...click(groundPoint(facts.field, facts.bats, at)) })),
    points: Object.fromEntries(Object.entries(body).map(([name, at]) => [name, click(at)])),
  };
}
