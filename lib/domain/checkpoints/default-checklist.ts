import type { Checklist } from './checklist';

const CUSTOM = 'Common practice, no source';

/**
 * The checklist a new program starts with. Every item is common practice among hitting coaches without a study
 * behind it, and says so; none carries a normal range. A program edits it and makes a new version.
 */
export const DEFAULT_CHECKLIST: Checklist = [
  {
    id: 'head-to-pitcher',
    checkpoint: 'stance',
    title: 'Head turned fully to the pitcher',
    lookFor: 'Both eyes face the pitcher and stay level. The chin does not point at the plate.',
    views: ['front', 'open_side'],
    standing: CUSTOM,
  },
  {
    id: 'balanced-set-up',
    checkpoint: 'stance',
    title: 'Balanced set-up',
    lookFor: 'Feet a little wider than the shoulders, knees soft, weight over the middle of both feet.',
    views: ['open_side', 'front', 'back'],
    standing: CUSTOM,
  },
  {
    id: 'hands-loaded',
    checkpoint: 'load',
    title: 'Hands at shoulder height, over the back knee',
    lookFor:
      'The hands go back and stay up: level with the back shoulder and above the back knee, not behind it.',
    views: ['open_side', 'back'],
    standing: CUSTOM,
  },
  {
    id: 'weight-gathered',
    checkpoint: 'load',
    title: 'Weight gathered inside the back foot',
    lookFor:
      'The back knee stays inside the back foot while the front foot leaves the ground. The hips do not slide past it.',
    views: ['open_side', 'front'],
    standing: CUSTOM,
  },
  {
    id: 'head-over-belt',
    checkpoint: 'foot_strike',
    title: 'Head over the belt buckle',
    lookFor: 'A plumb line from the ear falls on the belt buckle when the front foot is down.',
    views: ['open_side', 'back'],
    standing: CUSTOM,
  },
  {
    id: 'front-foot-closed',
    checkpoint: 'foot_strike',
    title: 'Front foot at most about 45 degrees open',
    lookFor:
      'Toes point between the plate and the front corner of the box, not at the pitcher. Judge it on the ground, not by the angle on the screen.',
    views: ['open_side', 'front', 'behind'],
    standing: CUSTOM,
  },
  {
    id: 'front-knee-inside',
    checkpoint: 'foot_strike',
    title: 'Front knee stays inside the front foot',
    lookFor: 'The knee is not past the outside of the foot when it takes the weight.',
    views: ['open_side', 'front'],
    standing: CUSTOM,
  },
  {
    id: 'knees-inside-feet',
    checkpoint: 'foot_strike',
    title: 'Knees inside the feet, bent alike',
    lookFor: 'Both knees are between the feet, with about the same bend.',
    views: ['open_side', 'front'],
    standing: CUSTOM,
  },
  {
    id: 'shoulders-hips-square',
    checkpoint: 'foot_strike',
    title: 'Shoulders and hips still square',
    lookFor:
      'When the foot lands the chest still faces the plate; the belt has not turned to the pitcher yet.',
    views: ['front', 'behind'],
    standing: CUSTOM,
  },
  {
    id: 'barrel-through',
    checkpoint: 'contact',
    title: 'Barrel through contact',
    lookFor: 'The barrel is on the line of the ball and keeps going through it; the hands do not roll yet.',
    views: ['open_side', 'front', 'back'],
    standing: CUSTOM,
  },
  {
    id: 'head-down-contact',
    checkpoint: 'contact',
    title: 'Eyes on the ball at contact',
    lookFor: 'The head is still where it was at foot strike and the nose points at the ball.',
    views: ['open_side', 'front'],
    standing: CUSTOM,
  },
  {
    id: 'full-finish',
    checkpoint: 'finish',
    title: 'Full, balanced finish',
    lookFor: 'The swing ends high and around, the belt faces the pitcher, and the hitter can stand there.',
    views: ['open_side', 'front', 'behind', 'back'],
    standing: CUSTOM,
  },
];
