import type { Checkpoint } from '../checkpoints/checkpoint';
import type { Checklist } from '../checkpoints/checklist';
import { MEASURE_NAMES, type MeasureName } from './names';

/** Which measures stand beside which item, by the ids of the default checklist, which stay the same across versions. */
const MEASURES_OF_ITEM: Readonly<Record<string, readonly MeasureName[]>> = {
  'head-over-belt': ['head-ahead-of-belt', 'trunk-lean'],
  'front-foot-closed': ['stride-foot-openness'],
  'front-knee-inside': ['front-knee-past-ankle'],
  'knees-inside-feet': ['front-knee-flexion'],
  'shoulders-hips-square': ['hip-openness', 'shoulder-openness', 'shoulder-tilt'],
};

const CHECKPOINT_OF: Record<MeasureName, Checkpoint> = {
  'stride-foot-openness': 'foot_strike',
  'stride-length': 'foot_strike',
  'head-ahead-of-belt': 'foot_strike',
  'front-knee-past-ankle': 'foot_strike',
  'trunk-lean': 'foot_strike',
  'shoulder-tilt': 'foot_strike',
  'front-knee-flexion': 'foot_strike',
  'hip-openness': 'foot_strike',
  'shoulder-openness': 'foot_strike',
  'load-to-foot-strike': 'foot_strike',
  'foot-strike-to-contact': 'contact',
};

/** The measures that belong to an item; none for items that no measure helps to judge. */
export const measuresOfItem = (itemId: string): readonly MeasureName[] => MEASURES_OF_ITEM[itemId] ?? [];

/** The item that a measure stands beside on this checklist; null when none of its items takes it. */
export const itemOfMeasure = (measure: MeasureName, checklist: Checklist): string | null =>
  checklist.find((item) => measuresOfItem(item.id).includes(measure))?.id ?? null;

/** The measures of a checkpoint that no item of this checklist takes; they stand at the checkpoint itself. */
export const loneMeasures = (checkpoint: Checkpoint, checklist: Checklist): MeasureName[] =>
  MEASURE_NAMES.filter(
    (measure) => CHECKPOINT_OF[measure] === checkpoint && itemOfMeasure(measure, checklist) === null,
  );
