import type { CameraFacts } from '@/lib/domain/measures/camera-facts';
import { standingByView, type Status } from '@/lib/domain/measures/evidence';
import { MEASURE_LABEL, VIEW_LABEL } from '@/lib/domain/measures/words';

const metres = (value: number) => `${value.toFixed(1)} m`;

/** Where the camera stands, in words: "from the open side, 8° toward the pitcher, 1.1 m high, 4.2 m away". */
export const cameraWords = ({ view, azimuth, height, distance }: CameraFacts): string => {
  const square = { open_side: 0, front: 90, back: 180, behind: -90 }[view];
  const off = ((((azimuth - square + 180) % 360) + 360) % 360) - 180;
  const turned = Math.abs(off) < 1 ? 'square to it' : `${Math.abs(Math.round(off))}° off square`;
  const from =
    view === 'open_side' || view === 'front' ? `from the ${VIEW_LABEL[view]}` : `from ${VIEW_LABEL[view]}`;
  return `${from}, ${turned}, ${metres(height)} high, ${metres(distance)} away`;
};

const IN_SPACE = [
  'stride-foot-openness',
  'stride-length',
  'head-ahead-of-belt',
  'front-knee-past-ankle',
  'trunk-lean',
  'shoulder-tilt',
] as const;

/** What may be said from where this camera stands, as names in small letters: measured, estimated, not at all. */
export const whatCarries = (azimuth: number): Record<Status, string[]> => {
  const of = (status: Status) =>
    IN_SPACE.filter((name) => standingByView(name, azimuth).status === status).map((name) =>
      MEASURE_LABEL[name].toLowerCase(),
    );
  return { measured: of('measured'), estimate: of('estimate'), refused: of('refused') };
};
