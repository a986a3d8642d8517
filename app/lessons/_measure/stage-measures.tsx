'use client';

import { useMemo } from 'react';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { toPixel } from '@/lib/domain/marks/geometry';
import type { Calibrated } from '@/lib/domain/measures/calibrate';
import { project } from '@/lib/domain/measures/camera';
import { groundPoint } from '@/lib/domain/measures/field';
import { groundGrid } from '@/lib/domain/measures/grid';
import { groundAngle } from '@/lib/domain/measures/ground-angle';
import type { Hand } from '@/lib/domain/lessons/state';
import { type GroundName, type JointName } from '@/lib/domain/measures/names';
import type { Measure } from '@/lib/domain/measures/measure';

import { targetWords, type Target } from '@/lib/domain/measures/target';
import { measureText } from '@/lib/domain/measures/words';
import type { Calibration, Joint } from '@/lib/domain/review/sheet';
import type { Project } from './chalk-line';
import { AngleDrawing, GridDrawing, PointCross } from './stage-drawing';

/** The ground as the calibration's camera sees it; nothing when it was refused. */
export const GroundOver = ({
  calibrated,
  calibration,
  bats,
  to,
}: {
  calibrated: Calibrated | null;
  calibration: Calibration | null;
  bats: Hand;
  to: Project;
}) => {
  const lines = useMemo(
    () => (calibrated?.ok && calibration ? groundGrid(calibrated.camera, calibration.field, bats) : []),
    [calibrated, calibration, bats],
  );
  return <GridDrawing lines={lines} project={to} />;
};

/** Where a corner should lie by the camera as it is found so far; null while there is none. */
export const expectedCorner = (
  calibrated: Calibrated | null,
  calibration: Calibration | null,
  bats: Hand,
  at: GroundName,
): FramePoint | null => {
  if (!calibrated?.ok || !calibration) return null;
  const { camera } = calibrated;
  const pixel = project(camera, groundPoint(calibration.field, bats, at));
  if (!pixel) return null;
  const point = { x: pixel[0] / camera.width, y: pixel[1] / camera.height };
  return point.x >= 0 && point.x <= 1 && point.y >= 0 && point.y <= 1 ? point : null;
};

type AngleProps = {
  calibrated: Calibrated | null;
  /** Points of this frame. */
  joints: readonly Joint[];
  bats: Hand;
  openness: Measure | null;
  target: Target | null;
  to: Project;
  size: { width: number; height: number };
};

/** The stride foot's turn on the ground with square and target beside it; nothing when it was refused. */
export const AngleOver = ({ calibrated, joints, bats, openness, target, to, size }: AngleProps) => {
  const at = (name: JointName) => joints.find((joint) => joint.name === name)?.point;
  const [heel, toe] = [at('stride-heel'), at('stride-toe')];
  if (!calibrated?.ok || !heel || !toe || !openness || openness.status === 'refused') return null;
  const { camera } = calibrated;
  const limit = target?.high ?? target?.low ?? null;
  const angle = groundAngle(camera, bats, toPixel(heel, camera), toPixel(toe, camera), limit);
  if (!angle) return null;
  return (
    <AngleDrawing
      angle={angle}
      words={`${measureText(openness)} open`}
      targetWords={target ? `target ${targetWords(target)}` : null}
      project={to}
      size={size}
    />
  );
};

/** The points of a frame as small crosses. */
export const JointsOver = ({ joints, to }: { joints: readonly Joint[]; to: Project }) =>
  joints.map((joint) => <PointCross key={joint.name} at={to(joint.point)} isAsked={false} label={null} />);
