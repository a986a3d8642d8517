import type { Drawing, DrillText } from './drill';

const CUSTOM = 'Common practice, no source';
const ROOM = 'Three metres of clear space all round, nobody inside it, no window behind the ball.';
const NET = 'Hit into a net that stands firmly.';
const MOVING = 'Helmet on whenever the ball moves; whoever tosses stands behind a screen.';

/** A hitter who bats right: feet beside the plate, along the line to the pitcher (common practice, no source). */
const FEET: Pick<Drawing, 'version' | 'frontFoot' | 'backFoot'> = {
  version: 1,
  frontFoot: { x: 0.6, y: 0.65 },
  backFoot: { x: -0.1, y: 0.65 },
};
const drawn = (tee: Drawing['tee'], toward: number): Drawing => ({ ...FEET, tee, toward });

/**
 * The drills that a program starts with, one or two for each common fault. Each is common practice among hitting
 * coaches without a study behind it, and says so. The order tee, toss, machine follows Monti 2015 (IJSPT 10(7),
 * 1059-1073, abstract: fixed ball, soft toss, growing pitch velocity); live pitching last is common practice.
 */
export const DEFAULT_DRILLS: readonly DrillText[] = [
  {
    title: 'Outer-third tee',
    summary: 'A ball on the outer third teaches the barrel to stay through the ball instead of around it.',
    steps: [
      'Set the tee over the outer third, just inside where the front foot lands.',
      'Swing to drive the ball back past the tee, toward the opposite gap.',
      'Look where the ball meets the net: low and to the opposite side is right.',
    ],
    stages: ['tee', 'toss', 'machine', 'live'],
    drawing: drawn({ x: 0.45, y: -0.14 }, -20),
    safety: [ROOM, NET, MOVING],
    itemIds: ['barrel-through', 'shoulders-hips-square'],
    standing: CUSTOM,
  },
  {
    title: 'Stride and freeze',
    summary: 'Stopping at foot strike shows where the front foot, the knee and the head really land.',
    steps: [
      'Take the stride without swinging and stop when the front foot is down.',
      'Look: toes between plate and front corner of the box, head over the belt buckle.',
      'After six good freezes, let the swing go from the frozen place.',
    ],
    stages: ['tee'],
    drawing: drawn({ x: 0.5, y: 0 }, 0),
    safety: [ROOM, NET],
    itemIds: ['front-foot-closed', 'head-over-belt', 'front-knee-inside', 'knees-inside-feet'],
    standing: CUSTOM,
  },
  {
    title: 'Closed front foot line',
    summary: 'A line on the ground gives the front foot something to land beside.',
    steps: [
      'Lay a bat or tape where the front toes should point.',
      'Stride beside it, eight times without a ball, then off the tee.',
      'Step off and look at your footprint after each swing.',
    ],
    stages: ['tee', 'toss'],
    drawing: drawn({ x: 0.5, y: 0 }, 0),
    safety: [ROOM, NET, 'Use tape when others may step on a bat.', MOVING],
    itemIds: ['front-foot-closed', 'shoulders-hips-square'],
    standing: CUSTOM,
  },
  {
    title: 'Hold the load',
    summary: 'Waiting two counts in the load lets the hands and the back leg find their place.',
    steps: [
      'Load, and count two with the hands at the height of the back shoulder.',
      'Feel the weight on the inside of the back foot.',
      'Stride and swing from there.',
    ],
    stages: ['tee', 'toss'],
    drawing: drawn({ x: 0.5, y: 0 }, 0),
    safety: [ROOM, NET, MOVING],
    itemIds: ['hands-loaded', 'weight-gathered'],
    standing: CUSTOM,
  },
  {
    title: 'Eyes stay at the tee',
    summary: 'Looking at the empty tee after the hit keeps the head still through contact.',
    steps: [
      'Put a mark on the ball and turn it to you.',
      'Hit it, and keep looking at the top of the tee until the bat has stopped.',
      'Say aloud what you saw.',
    ],
    stages: ['tee', 'toss', 'machine'],
    drawing: drawn({ x: 0.5, y: 0 }, 0),
    safety: [ROOM, NET, MOVING],
    itemIds: ['head-down-contact', 'head-to-pitcher', 'head-over-belt'],
    standing: CUSTOM,
  },
  {
    title: 'Finish and hold',
    summary: 'Standing still at the end shows whether the swing was balanced from the start.',
    steps: [
      'Swing at a speed you can hold.',
      'Finish high and around, and stand there for three counts.',
      'Swing a little faster only when three in a row held.',
    ],
    stages: ['tee', 'toss', 'machine', 'live'],
    drawing: drawn({ x: 0.5, y: 0 }, 0),
    safety: [ROOM, NET, MOVING],
    itemIds: ['full-finish', 'balanced-set-up'],
    standing: CUSTOM,
  },
];
