import { createHash } from 'node:crypto';
import { GROUND_NAMES, JOINT_NAMES, type JointName } from '../../lib/domain/measures/names';
import type { Calibration, Joint } from '../../lib/domain/review/sheet';

type Places = Record<string, [number, number]>;

const PART_OF: Record<JointName, string> = {
  'stride-heel': 'frontHeel',
  'stride-toe': 'frontToe',
  'rear-heel': 'backHeel',
  'rear-toe': 'backToe',
  head: 'head',
  belt: 'belt',
  'front-knee': 'frontKnee',
  'front-ankle': 'frontAnkle',
  'front-shoulder': 'frontShoulder',
  'rear-shoulder': 'backShoulder',
};

/** How far a careful click with the loupe misses, as a standard deviation in pixels of the rendition (our own choice). */
const MISS = 0.5;

/** Two numbers of a normal distribution that are always the same for a key. */
const missOf = (key: string): [number, number] => {
  const bytes = createHash('sha256').update(key).digest();
  const [u, v] = [(bytes.readUInt32LE(0) + 1) / 2 ** 32, bytes.readUInt32LE(4) / 2 ** 32];
  const radius = Math.sqrt(-2 * Math.log(Math.min(1, u)));
  return [radius * Math.cos(2 * Math.PI * v), radius * Math.sin(2 * Math.PI * v)];
};

/** What a coach would have clicked on a demo clip: corners on the ground, points at foot strike and the planted foot later. */
export function demoPoints(
  lessonKey: string,
  clip: { id: string; width: number; height: number },
  ground: Places,
  frames: readonly { frame: number; parts: Places; isStrike: boolean }[],
): { calibrations: Calibration[]; joints: Joint[] } {
  const clicked = (name: string, [x, y]: [number, number]) => {
    const [dx, dy] = missOf(`${lessonKey}/${name}`);
    return { x: x + (dx * MISS) / clip.width, y: y + (dy * MISS) / clip.height };
  };
  return {
    calibrations: [
      {
        clipId: clip.id,
        fromFrame: 0,
        field: 'baseball',
        ground: GROUND_NAMES.flatMap((at) => {
          const place = ground[at];
          return place ? [{ at, point: clicked(at, place) }] : [];
        }),
        isZoomed: false,
      },
    ],
    joints: frames.flatMap(({ frame, parts, isStrike }) =>
      JOINT_NAMES.flatMap((name) => {
        const place = parts[PART_OF[name]];
        if (!place || (!isStrike && !name.startsWith('stride'))) return [];
        return [{ clipId: clip.id, frame, name, point: clicked(`${frame}/${name}`, place), isLifted: false }];
      }),
    ),
  };
}
