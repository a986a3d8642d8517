'use client';

import type { Hand } from '@/lib/domain/lessons/state';
import type { MeasureName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { ClipMeasured } from './measured';
import css from './measure.module.css';
import { AngleOver } from './stage-measures';

type Props = {
  sheet: Sheet;
  clipId: string;
  frame: number;
  measured: readonly ClipMeasured[];
  targets: ReadonlyMap<MeasureName, Target>;
  bats: Hand | null;
  size: { width: number; height: number };
};

/** The ground angle over a picture that is shown whole, on the frame of foot strike. The lines beside it say the same. */
export const FrameMeasures = ({ sheet, clipId, frame, measured, targets, bats, size }: Props) => {
  const here = measured.find((one) => one.clipId === clipId);
  if (!bats || here?.strikeFrame !== frame) return null;
  const { width, height } = size;
  return (
    <svg
      className={css.over}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
      focusable="false"
      data-measures
    >
      <AngleOver
        calibrated={here.calibration}
        joints={sheet.joints.filter((joint) => joint.clipId === clipId && joint.frame === frame)}
        bats={bats}
        openness={here.measures.find((one) => one.name === 'stride-foot-openness') ?? null}
        target={targets.get('stride-foot-openness') ?? null}
        to={(point) => [point.x * width, point.y * height]}
        size={size}
      />
    </svg>
  );
};
