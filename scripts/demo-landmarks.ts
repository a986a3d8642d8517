/**
 * Writes where the parts of the hitter lie in the picture at each checkpoint of the demo clips, and where the corners of
 * plate and box lie, so that the demo's marks and points sit where a coach would set them. Run it after the demo clips
 * have changed: `npx tsx scripts/demo-landmarks.ts`
 */
import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { project, type Camera } from '../tests/support/swing/camera';
import { boxCorners, PLATE } from '../tests/support/swing/plate';

const ROOT = path.resolve(import.meta.dirname, '..');
const TRUTH = path.join(ROOT, 'tests/support/swing/truth');
const OUT = path.join(ROOT, 'prisma/demo/landmarks.json');

interface Truth {
  bats: 'right' | 'left';
  camera: Camera;
  joints: string[];
  frames: { picture: number[] }[];
}
interface Manifest {
  clips: { file: string; checkpoints: Record<string, number> }[];
}

// The front side is the left one of a right-handed hitter.
const PARTS = {
  head: ['head'],
  belt: ['beltBuckle'],
  frontShoulder: ['front:Shoulder'],
  backShoulder: ['back:Shoulder'],
  hands: ['leftWrist', 'rightWrist'],
  frontHip: ['front:Hip'],
  backHip: ['back:Hip'],
  frontKnee: ['front:Knee'],
  backKnee: ['back:Knee'],
  frontAnkle: ['front:Ankle'],
  backAnkle: ['back:Ankle'],
  frontHeel: ['front:Heel'],
  frontToe: ['front:Toe'],
  backHeel: ['back:Heel'],
  backToe: ['back:Toe'],
  batKnob: ['batKnob'],
  batTip: ['batTip'],
} as const;

const sideOf = (bats: Truth['bats'], part: string) => {
  const [side, joint] = part.split(':');
  if (joint === undefined) return part;
  return `${(side === 'front') === (bats === 'right') ? 'left' : 'right'}${joint}`;
};

// `PLATE` and `boxCorners` run anticlockwise; the box's `low` side has the smaller y.
const groundOf = ({ bats, camera }: Truth): Record<string, [number, number]> => {
  const [apex, sideFirst, frontFirst, frontThird, sideThird] = PLATE;
  const [rearLow, frontLow, frontHigh, rearHigh] = boxCorners(bats === 'right' ? 1 : -1);
  const isThird = bats === 'right';
  const corners = {
    'plate-apex': apex,
    'plate-side-third': sideThird,
    'plate-front-third': frontThird,
    'plate-front-first': frontFirst,
    'plate-side-first': sideFirst,
    'box-inner-front': isThird ? frontLow : frontHigh,
    'box-inner-rear': isThird ? rearLow : rearHigh,
    'box-outer-rear': isThird ? rearHigh : rearLow,
    'box-outer-front': isThird ? frontHigh : frontLow,
  };
  const { width, height } = camera;
  return Object.fromEntries(
    Object.entries(corners).flatMap(([name, corner]): [string, [number, number]][] => {
      if (!corner) return [];
      const [x, y] = project(camera, [corner[0], corner[1], 0]);
      const isSeen = x > 0 && x < width && y > 0 && y < height;
      return isSeen ? [[name, [Number((x / width).toFixed(5)), Number((y / height).toFixed(5))]]] : [];
    }),
  );
};

const manifest = JSON.parse(
  await readFile(path.join(ROOT, 'prisma/demo/clips/manifest.json'), 'utf8'),
) as Manifest;
const landmarks: Record<string, Record<string, Record<string, [number, number]>>> = {};
for (const clip of manifest.clips) {
  const name = path.parse(clip.file).name;
  const truth = JSON.parse(await readFile(path.join(TRUTH, `${name}.json`), 'utf8')) as Truth;
  const at = (frame: number, part: string): [number, number] => {
    const joint = truth.joints.indexOf(sideOf(truth.bats, part));
    const picture = truth.frames[frame]?.picture ?? [];
    const { width, height } = truth.camera;
    return [(picture[joint * 2] ?? 0) / 10 / width, (picture[joint * 2 + 1] ?? 0) / 10 / height];
  };
  landmarks[name] = {
    ground: groundOf(truth),
    ...Object.fromEntries(
      Object.entries(clip.checkpoints).map(([checkpoint, frame]) => [
        checkpoint,
        Object.fromEntries(
          Object.entries(PARTS).map(([part, joints]) => {
            const points = joints.map((joint) => at(frame, joint));
            const mean = (axis: 0 | 1) => points.reduce((sum, point) => sum + point[axis], 0) / points.length;
            return [part, [Number(mean(0).toFixed(4)), Number(mean(1).toFixed(4))]];
          }),
        ),
      ]),
    ),
  };
}
await writeFile(OUT, `${JSON.stringify(landmarks)}\n`);
