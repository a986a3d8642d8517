'use client';

import { useCallback, useMemo, useState } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { Hand } from '@/lib/domain/lessons/state';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { type Calibrated } from '@/lib/domain/measures/calibrate';
import { BOX_CORNERS, PLATE_CORNERS } from '@/lib/domain/measures/field';
import { calibrationOf } from '@/lib/domain/measures/from-sheet';
import { JOINT_NAMES, type GroundName, type JointName } from '@/lib/domain/measures/names';
import { calibrationAt, pinOf } from '@/lib/domain/review/edits';
import type { Calibration, Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { measurable, measureClips, type ClipMeasured } from './measured';
import type { Player } from '@/lib/review/player/player';
import { cornerOn, jointOn } from './placing';
import { useSuggesting, type Suggesting } from './use-suggesting';

export type MeasureMode = 'ground' | 'points';

type PointName = GroundName | JointName;

type Given = {
  clips: readonly ClipOnPage[];
  tables: Readonly<Record<string, FrameTable>>;
  clipId: string | null;
  player: Player | null;
  frame: number | null;
  bats: Hand | null;
  sheet: Sheet;
  saver: SheetSaver | null;
};

/** What is being placed on the bench, and every number as it stands with it. */
export interface Measuring {
  mode: MeasureMode | null;
  setMode: (mode: MeasureMode | null) => void;
  /** The sheet with the point that is in hand. */
  live: Sheet;
  /** The calibration that holds on the frame of the stage. */
  calibration: Calibration | null;
  /** The camera of that calibration, or why there is none; null without corners. */
  calibrated: Calibrated | null;
  measured: readonly ClipMeasured[];
  /** What may be placed on this frame in this mode, in order, and where it lies when it is set. */
  points: readonly { name: PointName; point: FramePoint | null }[];
  /** The point that is asked for; null when all are set. */
  asked: PointName | null;
  choose: (name: PointName | null) => void;
  /** Says that a corner lies out of the picture, or not after all. */
  leaveOut: (name: GroundName, isOut: boolean) => void;
  leftOut: ReadonlySet<string>;
  isPlateOnly: boolean;
  setPlateOnly: (isOnly: boolean) => void;
  /** For the loupe: `name` is the point that was taken up, null for the one asked for. */
  place: (point: FramePoint, name: string | null) => void;
  hold: (point: FramePoint | null, name: string | null) => void;
  /** Help with the points and moments of the clip, which proposes and never sets. */
  suggesting: Suggesting;
}

const STRIDE_FOOT = ['stride-heel', 'stride-toe'] as const;
const ALL_CORNERS = [...PLATE_CORNERS, ...BOX_CORNERS];

/** Which points count on a frame: all at foot strike, the stride foot on frames from there to contact, else none. */
export const jointsOnFrame = (sheet: Sheet, clipId: string, frame: number): readonly JointName[] => {
  const strike = pinOf(sheet, 'foot_strike', clipId);
  if (!strike || frame < strike.frame) return [];
  if (frame === strike.frame) return JOINT_NAMES;
  const contact = pinOf(sheet, 'contact', clipId);
  return contact && frame <= contact.frame ? STRIDE_FOOT : [];
};

/** Calibration and points of the clip on the stage: every change goes to the sheet, what is in hand is shown before. */
export function useMeasuring(given: Given): Measuring {
  const { clips, tables, clipId, player, frame, bats, sheet, saver } = given;
  const [mode, setModeNow] = useState<MeasureMode | null>(null);
  const [draft, setDraft] = useState<{ name: PointName; point: FramePoint } | null>(null);
  const [chosen, choose] = useState<PointName | null>(null);
  const [leftOut, setLeftOut] = useState<ReadonlySet<string>>(new Set());
  const [isPlateOnly, setPlateOnly] = useState(false);
  const setMode = useCallback((next: MeasureMode | null) => {
    setDraft(null);
    choose(null);
    setModeNow(next);
  }, []);
  const put = useCallback(
    (on: Sheet, name: PointName, point: FramePoint): Sheet => {
      if (!clipId || frame === null) return on;
      return mode === 'ground'
        ? cornerOn(on, clipId, frame, name as GroundName, point)
        : jointOn(on, clipId, frame, name as JointName, point);
    },
    [mode, clipId, frame],
  );
  const live = useMemo(
    () => (draft && mode ? put(sheet, draft.name, draft.point) : sheet),
    [draft, mode, put, sheet],
  );
  const { calibrations, joints, pins } = live;
  const measured = useMemo(
    () => measureClips({ calibrations, joints, pins }, clips, tables, bats),
    [calibrations, joints, pins, clips, tables, bats],
  );
  const calibration = clipId && frame !== null ? (calibrationAt(live, clipId, frame) ?? null) : null;
  const calibrated = useMemo(() => {
    const clip = clips.find((one) => one.id === clipId);
    const table = clipId ? tables[clipId] : undefined;
    if (!calibration || !clip || !table || !bats || calibration.ground.length === 0) return null;
    const isZoomed = calibration.isZoomed ?? clip.isZoomed;
    return calibrationOf({ ...calibration, isZoomed }, measurable(clip, table), bats);
  }, [calibration, clips, clipId, tables, bats]);
  const points = useMemo(() => {
    if (mode === 'ground') {
      const names = isPlateOnly ? PLATE_CORNERS : ALL_CORNERS;
      return names.map((name) => ({
        name,
        point: calibration?.ground.find((corner) => corner.at === name)?.point ?? null,
      }));
    }
    if (mode !== 'points' || !clipId || frame === null) return [];
    return jointsOnFrame(live, clipId, frame).map((name) => ({
      name,
      point:
        live.joints.find((j) => j.clipId === clipId && j.frame === frame && j.name === name)?.point ?? null,
    }));
  }, [mode, isPlateOnly, calibration, live, clipId, frame]);
  const suggesting = useSuggesting({
    isOpen: mode === 'points',
    player,
    clip: clips.find((one) => one.id === clipId) ?? null,
    table: (clipId && tables[clipId]) || null,
    ...{ frame, bats, sheet, saver },
    names: mode === 'points' ? points.map(({ name }) => name as JointName) : [],
  });
  const isHeld = (name: PointName) => draft?.name === name;
  const asked =
    points.find(({ name }) => name === chosen)?.name ??
    points.find(({ name, point }) => (point === null || isHeld(name)) && !leftOut.has(name))?.name ??
    null;

  const place = useCallback(
    (point: FramePoint, taken: string | null) => {
      const name = (taken as PointName | null) ?? asked;
      setDraft(null);
      if (!name) return;
      choose(taken ? name : null);
      saver?.edit((before) => put(before, name, point));
    },
    [asked, put, saver],
  );
  const hold = useCallback(
    (point: FramePoint | null, taken: string | null) => {
      const name = (taken as PointName | null) ?? asked;
      setDraft(point && name ? { name, point } : null);
    },
    [asked],
  );
  const leaveOut = useCallback((name: GroundName, isOut: boolean) => {
    choose(null);
    setLeftOut((before) => new Set([...before].filter((one) => one !== name).concat(isOut ? [name] : [])));
  }, []);
  return {
    mode,
    setMode,
    live,
    calibration,
    calibrated,
    measured,
    points,
    asked,
    choose,
    leaveOut,
    leftOut,
    isPlateOnly,
    setPlateOnly,
    place,
    hold,
    suggesting,
  };
}
