import * as z from 'zod';
import type { Calibrated } from './calibrate';
import type { CameraFacts } from './camera-facts';
import { measuresOf, type Measure } from './measure';
import { FIELDS, GROUND_NAMES, JOINT_NAMES, type GroundName } from './names';
import type { Vec3 } from './vector';

const pointSchema = z.object({ x: z.number(), y: z.number() });
const pointsSchema = z.partialRecord(z.enum(JOINT_NAMES), pointSchema);

/**
 * The open record, version 1: corners of plate and box and points of the hitter at foot strike, all in pixels from the
 * top left of a frame of the given size. Whoever holds it can compute the measures again. `zoomed`, `planted`, `lifted`
 * and `moments` may be left out; unknown keys are passed over.
 */
export const recordSchema = z.object({
  version: z.literal(1),
  frame: z.object({ width: z.number().positive(), height: z.number().positive() }),
  bats: z.enum(['right', 'left']),
  field: z.enum(FIELDS),
  /** Standard deviation of a click in pixels. */
  clickSd: z.number().nonnegative(),
  /** Focal length in pixels, where the file told it. */
  focal: z.number().positive().nullish(),
  /** Whether the clip was zoomed while it was taken, where that is known. */
  zoomed: z.boolean().nullish(),
  ground: z
    .array(z.object({ at: z.enum(GROUND_NAMES), x: z.number(), y: z.number() }))
    .superRefine((corners, context) => {
      corners.forEach(({ at }, i) => {
        if (corners.findIndex((corner) => corner.at === at) < i)
          context.addIssue({ code: 'custom', path: [i, 'at'], message: `${at} is given twice` });
      });
    }),
  points: pointsSchema,
  /** Points of the stride foot on further frames on which it is down. */
  planted: z.array(pointsSchema).optional(),
  /** Points of the feet that are off the ground at foot strike. */
  lifted: z.array(z.enum(JOINT_NAMES)).optional(),
  /** Milliseconds of real time, and the true pictures a second. */
  moments: z
    .object({
      load: z.number().nullish(),
      footStrike: z.number().nullish(),
      contact: z.number().nullish(),
      captureRate: z.number().positive().nullable(),
    })
    .optional(),
});
export type MeasureRecord = z.infer<typeof recordSchema>;

/** What a record comes to. The camera is told when it was found, else why not. */
export interface RecordAnswer {
  readonly version: 1;
  readonly camera:
    | (CameraFacts & {
        readonly status: 'found';
        readonly focal: number;
        readonly position: Vec3;
        readonly rms: number;
        readonly worst: GroundName;
        readonly residuals: readonly { readonly at: GroundName; readonly residual: number }[];
        readonly leftOut: readonly GroundName[];
      })
    | { readonly status: 'refused'; readonly reason: string; readonly sentence: string };
  readonly measures: readonly Measure[];
}

const cameraOf = (calibration: Calibrated): RecordAnswer['camera'] =>
  calibration.ok
    ? {
        status: 'found',
        ...calibration.facts,
        focal: calibration.camera.focal,
        position: calibration.camera.position,
        rms: calibration.rms,
        worst: calibration.worst,
        residuals: calibration.corners,
        leftOut: calibration.leftOut,
      }
    : { status: 'refused', reason: calibration.reason, sentence: calibration.sentence };

/** The measures of one record, in metres, degrees, centimetres, milliseconds and pixels. */
export const answerFor = ({ zoomed, ...record }: MeasureRecord): RecordAnswer => {
  const { calibration, measures } = measuresOf({ ...record, isZoomed: zoomed });
  return { version: 1, camera: cameraOf(calibration), measures };
};

/** A record that cannot be read: one sentence that names the path of the fault. */
export class RecordFault extends Error {
  override readonly name = 'RecordFault';
}

/** "[2].points.head.x", as one would write it in a program. */
const pathText = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) =>
      typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`,
    '',
  ) || 'the whole record';

const recordAt = (raw: unknown, prefix: readonly PropertyKey[]): MeasureRecord => {
  const parsed = recordSchema.safeParse(raw);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const path = [...prefix, ...(issue?.path ?? [])];
  // A key that is not known is reported at what holds it.
  const keyed = issue?.code === 'unrecognized_keys' ? [...path, issue.keys[0] ?? ''] : path;
  throw new RecordFault(`The record cannot be read at ${pathText(keyed)}: ${plainMessage(issue, raw)}.`);
};

const plainMessage = (issue: z.core.$ZodIssue | undefined, raw: unknown): string => {
  const value = issue?.path.reduce<unknown>(
    (held, key) =>
      typeof held === 'object' && held !== null ? (held as Record<PropertyKey, unknown>)[key] : undefined,
    raw,
  );
  if (typeof value === 'number' && !Number.isFinite(value)) return 'the number is not finite';
  if (value === undefined && issue?.code === 'invalid_type') return 'it is missing';
  return (issue?.message ?? 'it is not as it should be').replace(/\.$/, '').replaceAll('\n', ' ');
};

/**
 * Reads JSON that holds one record or an array of them. `source` names it in sentences. Throws a `RecordFault`, whose
 * message is one sentence that names the path of the fault.
 */
export const parseRecords = (text: string, source: string): MeasureRecord | MeasureRecord[] => {
  const raw = parseJson(text, source);
  return Array.isArray(raw) ? raw.map((record, i) => recordAt(record, [i])) : recordAt(raw, []);
};

const parseJson = (text: string, source: string): unknown => {
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message.replaceAll(/\s+/g, ' ') : 'not JSON';
    throw new RecordFault(`${source} holds no valid JSON: ${why}.`, { cause: error });
  }
};
