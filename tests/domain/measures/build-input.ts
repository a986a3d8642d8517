import type { MeasureInput, Measure } from '@/lib/domain/measures/measure';
import { measuresOf } from '@/lib/domain/measures/measure';
import { GROUND_NAMES, type GroundName, type MeasureName } from '@/lib/domain/measures/names';
import { VIEWS, type Chance, type Filming, type View } from '../../support/measures/filming';
import { bodyOf, clicked, flattened, type Body } from '../../support/measures/seen-swing';
import { mirroredCamera } from '../../support/swing/camera';
import { DEMO_CLIPS } from '../../support/swing/demo-clips';
import { SOUND } from '../../support/swing/style';
import { swingOf } from '../../support/swing/swing';

export type Bats = 'right' | 'left';

/** Half way between the hitter's feet, for a right-handed hitter of these tests. */
const PLACE = [-0.02, 0.87] as const;

/** A phone on a stand, `azimuth` degrees round the hitter as in `CameraFacts.azimuth`, for a right-handed hitter. */
export const filmingFrom = (
  azimuth: number,
  change: Partial<Filming> & { distance?: number } = {},
): Filming => {
  const { distance = 4.2, ...rest } = change;
  const a = (azimuth * Math.PI) / 180;
  return {
    position: [PLACE[0] + distance * Math.sin(a), PLACE[1] - distance * Math.cos(a), 1.4],
    target: [PLACE[0], PLACE[1] - 0.2, 0.85],
    fieldOfView: 58,
    width: 1920,
    height: 1080,
    roll: 0,
    ...rest,
  };
};

export const filmingOf = (view: View) => filmingFrom(VIEWS[view]);

/** A sound swing at full plant: soles on the ground, all else in the plane of the feet unless `isRound`. */
export function buildBody(bats: Bats = 'right', strideFootOpen = 42, isRound = false): Body {
  const { hitter } = DEMO_CLIPS[0]!;
  const swing = swingOf({ ...hitter, bats, style: { ...SOUND, strideFootOpen } });
  const body = bodyOf(swing.poseAt(swing.timing.plant), bats);
  return isRound ? body : flattened(body);
}

interface Filmed {
  view?: View;
  filming?: Filming;
  bats?: Bats;
  body?: Body;
  corners?: readonly GroundName[];
  clickSd?: number;
  field?: MeasureInput['field'];
  chance?: Chance | null;
}

/** Corners and points of a filmed swing, by default from the open side, without scatter, told as 1 pixel. */
export function buildInput(filmed: Filmed = {}): MeasureInput {
  const { view = 'side', bats = 'right', corners = GROUND_NAMES, clickSd = 1, field = 'baseball' } = filmed;
  const right = filmed.filming ?? filmingOf(view);
  const filming = bats === 'right' ? right : { ...right, ...mirroredCamera(right) };
  const body = filmed.body ?? buildBody(bats);
  return clicked(filming, body, { bats, field, clickSd }, corners, filmed.chance ?? null);
}

export const measureOf = (input: MeasureInput, name: MeasureName): Measure =>
  measuresOf(input).measures.find((measure) => measure.name === name)!;

export const halfOf = ({ interval }: Measure) => (interval![1] - interval![0]) / 2;

/** The input with every pixel, and the frame, changed. */
export function withPixels(
  input: MeasureInput,
  change: (at: { x: number; y: number }) => { x: number; y: number },
  frame = input.frame,
): MeasureInput {
  const points = (all: MeasureInput['points']) =>
    Object.fromEntries(Object.entries(all).map(([name, at]) => [name, change(at)]));
  return {
    ...input,
    frame,
    ground: input.ground.map((corner) => ({ ...corner, ...change(corner) })),
    points: points(input.points),
    planted: input.planted?.map(points),
  };
}
