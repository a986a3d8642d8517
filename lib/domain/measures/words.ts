import type { ClipView } from '../clips/clip';
import type { Measure } from './measure';
import type { GroundName, JointName, MeasureName } from './names';

/** What a corner is called to somebody who clicks it. */
export const CORNER_LABEL: Record<GroundName, string> = {
  'plate-apex': 'the point of the plate',
  'plate-side-third': 'the plate’s corner beside the point, third-base side',
  'plate-front-third': 'the plate’s front corner, third-base side',
  'plate-front-first': 'the plate’s front corner, first-base side',
  'plate-side-first': 'the plate’s corner beside the point, first-base side',
  'box-inner-front': 'the box’s front corner next to the plate',
  'box-inner-rear': 'the box’s rear corner next to the plate',
  'box-outer-rear': 'the box’s rear corner away from the plate',
  'box-outer-front': 'the box’s front corner away from the plate',
};

/** What a point of the hitter is called, and where exactly it is set. */
export const JOINT_LABEL: Record<JointName, string> = {
  'stride-heel': 'stride foot: heel, where the sole meets the ground',
  'stride-toe': 'stride foot: toe, where the sole meets the ground',
  'rear-heel': 'rear foot: heel, where the sole meets the ground',
  'rear-toe': 'rear foot: toe, where the sole meets the ground',
  head: 'middle of the head',
  belt: 'belt buckle',
  'front-knee': 'middle of the front knee',
  'front-ankle': 'middle of the front ankle',
  'front-shoulder': 'front shoulder',
  'rear-shoulder': 'rear shoulder',
};

/** The same in a few words, for lists and sentences. */
export const JOINT_SHORT: Record<JointName, string> = {
  'stride-heel': 'heel of the stride foot',
  'stride-toe': 'toe of the stride foot',
  'rear-heel': 'heel of the rear foot',
  'rear-toe': 'toe of the rear foot',
  head: 'head',
  belt: 'belt',
  'front-knee': 'front knee',
  'front-ankle': 'front ankle',
  'front-shoulder': 'front shoulder',
  'rear-shoulder': 'rear shoulder',
};

/** "the head and the belt", for sentences. */
export const jointList = (names: readonly JointName[]): string => {
  const all = names.map((name) => `the ${JOINT_SHORT[name]}`);
  return all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`;
};

export const MEASURE_LABEL: Record<MeasureName, string> = {
  'stride-foot-openness': 'Stride foot open',
  'stride-length': 'Stride length',
  'head-ahead-of-belt': 'Head ahead of belt',
  'front-knee-past-ankle': 'Front knee past ankle',
  'trunk-lean': 'Trunk lean to the pitcher',
  'shoulder-tilt': 'Shoulder tilt',
  'front-knee-flexion': 'Front knee bend',
  'hip-openness': 'Hips open',
  'shoulder-openness': 'Shoulders open',
  'load-to-foot-strike': 'Load to foot strike',
  'foot-strike-to-contact': 'Foot strike to contact',
};

/** What the number means, in one sentence: zero, sign and unit. */
export const MEASURE_MEANING: Record<MeasureName, string> = {
  'stride-foot-openness':
    'Turn of the stride foot on the ground: 0° is square to the pitcher line with the toe toward the plate, 90° is the toe at the pitcher.',
  'stride-length': 'From the middle of one foot to the middle of the other along the ground, in centimetres.',
  'head-ahead-of-belt':
    'How far the head is ahead of the belt along the pitcher line; plus is toward the pitcher.',
  'front-knee-past-ankle':
    'How far the front knee is past its ankle along the pitcher line; plus is toward the pitcher.',
  'trunk-lean':
    'Lean of the line from belt to mid-shoulders along the pitcher line; 0° is upright, plus is toward the pitcher.',
  'shoulder-tilt':
    'Slope of the shoulder line along the pitcher line; 0° is level, plus is the front shoulder higher.',
  'front-knee-flexion': 'Bend of the front knee; 0° is straight.',
  'hip-openness': 'Turn of the hips; 0° is side-on, 90° faces the pitcher.',
  'shoulder-openness': 'Turn of the shoulders; 0° is side-on, 90° faces the pitcher.',
  'load-to-foot-strike': 'Time from the load to foot strike, in milliseconds of real time.',
  'foot-strike-to-contact': 'Time from foot strike to contact, in milliseconds of real time.',
};

/** Views within a sentence, after "from" or "from the". */
export const VIEW_LABEL: Record<ClipView, string> = {
  open_side: 'open side',
  front: 'front',
  behind: 'behind the plate',
  back: 'behind the hitter’s back',
};

const SUFFIX = { deg: '°', cm: ' cm', ms: ' ms' } as const satisfies Record<Measure['unit'], string>;

const whole = (value: number): string => {
  const rounded = Math.round(value);
  return (rounded === 0 ? 0 : rounded).toString().replace('-', '−');
};

/**
 * A measure as it is read: "58° ± 4°", "about 58° ± 9°" for an estimate, "not measured" for a refusal. Whole units: more
 * digits than the interval carries would say too much. An interval is never shown as less than 1.
 */
export const measureText = ({ status, value, unit, interval }: Measure): string => {
  if (value === null || interval === null) return 'not measured';
  const half = Math.max(1, (interval[1] - interval[0]) / 2);
  const text = `${whole(value)}${SUFFIX[unit]} ± ${whole(half)}${SUFFIX[unit]}`;
  return status === 'estimate' ? `about ${text}` : text;
};
