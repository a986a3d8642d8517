import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Checkpoint } from '../../lib/domain/checkpoints/checkpoint';
import { DEFAULT_CHECKLIST } from '../../lib/domain/checkpoints/default-checklist';
import type { Mark } from '../../lib/domain/marks/mark';
import { sheetSchema, type Sheet } from '../../lib/domain/review/sheet';
import { demoId } from './ids';
import type { DemoReview } from './lesson-plan';
import { demoPoints } from './points';

type Point = { x: number; y: number };
type Landmarks = Record<string, Record<string, Record<string, [number, number]>>>;

/**
 * Where the parts of the hitter lie in each shipped clip at each checkpoint, and under `ground` where the corners of
 * plate and box lie, as fractions of the picture.
 */
export const readLandmarks = async (): Promise<Landmarks> =>
  JSON.parse(await readFile(path.resolve(import.meta.dirname, 'landmarks.json'), 'utf8')) as Landmarks;

const FRAME_OF: Record<Checkpoint, string> = {
  stance: 'stance',
  load: 'load',
  foot_strike: 'strikeFullPlant',
  contact: 'contact',
  finish: 'finish',
};

/** Where a part of the hitter lies in a shipped clip at a checkpoint; the middle of the picture when that is not known. */
export const partsOf =
  (clip: string, landmarks: Landmarks) =>
  (checkpoint: Checkpoint, part: string): Point => {
    const [x = 0.5, y = 0.5] = landmarks[clip]?.[FRAME_OF[checkpoint]]?.[part] ?? [];
    return { x, y };
  };

/**
 * The sheet of a demo review: every checkpoint pinned, its verdicts, and marks where a coach would draw them; with
 * `isMeasured` also the calibration and the points of the hitter.
 */
export function demoSheet(
  lessonKey: string,
  review: DemoReview,
  clip: { id: string; name: string; checkpoints: Record<string, number>; width: number; height: number },
  landmarks: Landmarks,
  isMeasured: boolean,
): Sheet {
  const frameOf = (checkpoint: Checkpoint) => clip.checkpoints[FRAME_OF[checkpoint]] ?? 0;
  const at = partsOf(clip.name, landmarks);
  const mark = (name: string, checkpoint: Checkpoint, itemId: string, chalk: Mark['chalk']) => ({
    version: 1 as const,
    id: demoId(`${lessonKey}/mark/${name}`),
    clipId: clip.id,
    frame: frameOf(checkpoint),
    span: 1,
    chalk,
    itemId,
    hidden: false,
  });
  // A short line is drawn past its ends, as a hand would.
  const beyond = (from: Point, to: Point, by: number): Point => ({
    x: to.x + (to.x - from.x) * by,
    y: to.y + (to.y - from.y) * by,
  });
  const drawn: Record<DemoReview['marks'][number], () => Mark[]> = {
    foot: () => {
      const heel = at('foot_strike', 'frontHeel');
      const toe = at('foot_strike', 'frontToe');
      return [
        {
          ...mark('foot', 'foot_strike', 'front-foot-closed', 'clay'),
          kind: 'arrow',
          points: [beyond(toe, heel, 0.2), beyond(heel, toe, 0.9)],
        },
        {
          ...mark('foot-words', 'foot_strike', 'front-foot-closed', 'white'),
          kind: 'text',
          points: [{ x: toe.x + 0.03, y: toe.y + 0.05 }],
          text: 'toes open',
        },
      ];
    },
    'head-plumb': () => {
      const head = at('foot_strike', 'head');
      const belt = at('foot_strike', 'belt');
      return [
        {
          ...mark('plumb', 'foot_strike', 'head-over-belt', 'white'),
          kind: 'plumb',
          points: [
            { x: head.x, y: head.y - 0.03 },
            { x: head.x, y: belt.y + 0.16 },
          ],
        },
        {
          ...mark('belt', 'foot_strike', 'head-over-belt', 'sky'),
          kind: 'line',
          points: [
            { x: belt.x - 0.04, y: belt.y },
            { x: belt.x + 0.04, y: belt.y },
          ],
        },
      ];
    },
    hands: () => {
      const hands = at('load', 'hands');
      return [
        {
          ...mark('hands', 'load', 'hands-loaded', 'sky'),
          kind: 'circle',
          points: [hands, { x: hands.x + 0.035, y: hands.y }],
        },
      ];
    },
    barrel: () => [
      {
        ...mark('barrel', 'contact', 'barrel-through', 'clay'),
        kind: 'arrow',
        points: [at('contact', 'batTip'), beyond(at('contact', 'batKnob'), at('contact', 'batTip'), 0.5)],
      },
    ],
    finish: () => [
      {
        ...mark('finish', 'finish', 'full-finish', 'sky'),
        kind: 'line',
        points: [at('finish', 'head'), at('finish', 'backAnkle')],
      },
    ],
  };
  const checkpointOf = (itemId: string): Checkpoint =>
    DEFAULT_CHECKLIST.find((item) => item.id === itemId)?.checkpoint ?? 'stance';
  const here = landmarks[clip.name] ?? {};
  const measured = () =>
    demoPoints(lessonKey, clip, here.ground ?? {}, [
      { frame: frameOf('foot_strike'), parts: here[FRAME_OF.foot_strike] ?? {}, isStrike: true },
      { frame: frameOf('contact'), parts: here[FRAME_OF.contact] ?? {}, isStrike: false },
    ]);
  return sheetSchema.parse({
    version: 1,
    ...(isMeasured ? measured() : {}),
    pins: (Object.keys(FRAME_OF) as Checkpoint[]).map((checkpoint) => ({
      checkpoint,
      clipId: clip.id,
      frame: frameOf(checkpoint),
      strike: checkpoint === 'foot_strike' ? 'full_plant' : null,
    })),
    answers: Object.entries(review.verdicts).map(([itemId, [verdict, note = '']]) => ({
      itemId,
      verdict,
      note,
      clipId: clip.id,
      frame: frameOf(checkpointOf(itemId)),
    })),
    fixFirst: review.fixFirst,
    cues: review.cues.map((cue, index) => ({ id: demoId(`${lessonKey}/cue/${index}`), ...cue })),
    // Where the foot is measured its angle is drawn on the ground: an arrow over it would hide it.
    marks: review.marks.filter((name) => !isMeasured || name !== 'foot').flatMap((name) => drawn[name]()),
  });
}
