import * as z from 'zod';
import type { Brand } from '../shared/brand';
import { DRILL_STAGES, spotSchema } from './dose';
import type { DrillClip } from './drill-clip';

export type DrillId = Brand<string, 'DrillId'>;
export type AssignmentId = Brand<string, 'AssignmentId'>;

/** A drill drawn on the ground, for a hitter who bats right; metres in plate coordinates. */
export const drawingSchema = z.object({
  version: z.literal(1),
  tee: spotSchema.nullable(),
  frontFoot: spotSchema,
  backFoot: spotSchema,
  /** Where the ball is to go: degrees from the line to the pitcher, positive to third base. */
  toward: z.number().min(-60, 'Aim between the lines.').max(60, 'Aim between the lines.'),
});
export type Drawing = z.infer<typeof drawingSchema>;

/** What somebody writes about a drill. */
export const drillSchema = z.object({
  title: z.string().trim().min(1, 'Give the drill a name.').max(80, 'Eighty letters at most.'),
  summary: z.string().trim().max(400, 'Four hundred letters at most.'),
  steps: z.array(z.string().trim().min(1).max(240)).max(8, 'Eight steps at most.'),
  stages: z.array(z.enum(DRILL_STAGES)).min(1, 'Say how the ball comes.'),
  drawing: drawingSchema.nullable(),
  safety: z.array(z.string().trim().min(1).max(240)).max(8, 'Eight lines at most.'),
  /** Items of the checklist that it helps. */
  itemIds: z.array(z.string().max(48)).max(20),
  standing: z.string().trim().min(1, 'Say where it comes from.').max(200),
});
export type DrillText = z.infer<typeof drillSchema>;

/** A drill as it stands in the library; a new version is a new entry of the same series. */
export interface Drill extends DrillText {
  id: DrillId;
  seriesId: string;
  number: number;
  /** Ready to be watched; null for a version without one, or when it was taken away. */
  clip: DrillClip | null;
}

/** The drills that help an item first, the others after them; both by name. */
export const drillsFor = <D extends Pick<Drill, 'title' | 'itemIds'>>(
  drills: readonly D[],
  itemId: string | null,
): D[] => {
  const helps = (drill: D) => itemId !== null && drill.itemIds.includes(itemId);
  return [...drills].sort(
    (a, b) => Number(helps(b)) - Number(helps(a)) || a.title.localeCompare(b.title, 'en'),
  );
};
