'use client';

import { useMemo } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Hand } from '@/lib/domain/lessons/state';
import type { GroundName, JointName, MeasureName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import { CORNER_LABEL, JOINT_LABEL } from '@/lib/domain/measures/words';
import { toScreen, type Viewport } from '@/lib/review/canvas/viewport';
import type { Chalkboard } from '@/lib/review/input/chalkboard-state';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import type { Player } from '@/lib/review/player/player';
import type { Project } from './chalk-line';
import css from './measure.module.css';
import { GroundPanel } from './ground-panel';
import type { When } from './measure-lines';
import { PlacingLayer } from './placing-layer';
import { PointsPanel } from './points-panel';
import { AngleOver, expectedCorner, GroundOver, JointsOver } from './stage-measures';
import { SuggestBox, SuggestedPoints } from './suggest-box';
import type { Measuring } from './use-measuring';

type Props = {
  measuring: Measuring;
  clipId: string | null;
  frame: number | null;
  bats: Hand | null;
  viewport: Viewport | null;
  board: Chalkboard | null;
  player: Player | null;
  targets: ReadonlyMap<MeasureName, Target>;
  /** The chalk is hidden: the measures are too. */
  isHidden: boolean;
};

/** What lies over the stage: the loupe while points are placed, else the points and the ground angle of this frame. */
export const MeasureOver = (props: Props) => {
  const { measuring, clipId, frame, bats, viewport, board, player, targets, isHidden } = props;
  const { mode, asked, points, calibration, calibrated, live } = measuring;
  const joints = useMemo(
    () => live.joints.filter((joint) => joint.clipId === clipId && joint.frame === frame),
    [live.joints, clipId, frame],
  );
  const placed = useMemo(
    () =>
      points.flatMap(({ name, point }, index) =>
        point ? [{ name, point, label: mode === 'ground' ? String(index + 1) : '' }] : [],
      ),
    [points, mode],
  );
  if (!bats || !viewport || !board || !player || frame === null) return null;
  const here = measuring.measured.find((one) => one.clipId === clipId);
  const angle = (to: Project) =>
    here?.strikeFrame === frame ? (
      <AngleOver
        calibrated={calibrated}
        joints={joints}
        bats={bats}
        openness={here.measures.find((one) => one.name === 'stride-foot-openness') ?? null}
        target={targets.get('stride-foot-openness') ?? null}
        to={to}
        size={viewport.stage}
      />
    ) : null;
  if (!mode) {
    if (isHidden || joints.length === 0) return null;
    const to: Project = (point) => {
      const { left, top } = toScreen(viewport, point);
      return [left, top];
    };
    const { width, height } = viewport.stage;
    return (
      <svg
        className={css.over}
        viewBox={`0 0 ${width} ${height}`}
        aria-hidden="true"
        focusable="false"
        data-measures
      >
        <JointsOver joints={joints} to={to} />
        {angle(to)}
      </svg>
    );
  }
  const isGround = mode === 'ground';
  const { suggesting } = measuring;
  if (!isGround && suggesting.aim) {
    return (
      <SuggestBox
        viewport={viewport}
        box={suggesting.box}
        isBusy={suggesting.progress !== null}
        onBox={suggesting.setBox}
      />
    );
  }
  const proposed = suggesting.joints.find(({ name }) => name === asked)?.point ?? null;
  const words = asked ? (isGround ? CORNER_LABEL[asked as GroundName] : JOINT_LABEL[asked as JointName]) : '';
  return (
    <PlacingLayer
      viewport={viewport}
      board={board}
      player={player}
      placed={placed}
      asked={asked ? { name: asked, words } : null}
      start={
        isGround && asked ? expectedCorner(calibrated, calibration, bats, asked as GroundName) : proposed
      }
      onSet={measuring.place}
      onMove={measuring.hold}
    >
      {(to) => (
        <>
          <GroundOver
            calibrated={isGround ? calibrated : null}
            calibration={calibration}
            bats={bats}
            to={to}
          />
          {isGround ? null : angle(to)}
          {isGround ? null : <SuggestedPoints joints={suggesting.joints} project={to} />}
        </>
      )}
    </PlacingLayer>
  );
};

type SideProps = When & {
  measuring: Measuring;
  clip: ClipOnPage | null;
  frame: number | null;
  bats: Hand | null;
  saver: SheetSaver | null;
  targets: ReadonlyMap<MeasureName, Target>;
  onGoTo: (frame: number) => void;
};

/** The panel of what is being placed; nothing while nothing is. */
export const MeasureSide = ({ measuring, clip, frame, bats, saver, targets, onGoTo, ...when }: SideProps) => {
  if (!measuring.mode || !clip || frame === null || !bats || !saver) return null;
  const given = { measuring, clip, frame, bats, sheet: measuring.live, saver };
  return measuring.mode === 'ground' ? (
    <GroundPanel {...given} calibrated={measuring.calibrated} />
  ) : (
    <PointsPanel {...given} targets={targets} onGoTo={onGoTo} {...when} />
  );
};
