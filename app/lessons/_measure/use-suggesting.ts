'use client';

import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { Hand } from '@/lib/domain/lessons/state';
import type { JointName } from '@/lib/domain/measures/names';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { isAbort } from '@/lib/review/media/frame-source';
import type { Player } from '@/lib/review/player/player';
import { suggestJoints, type PictureBox, type SuggestedJoint } from '@/lib/review/pose/body-points';
import { momentsFrom, planFrames, type FoundMoments } from '@/lib/review/pose/find-moments';
import { poseRefusal } from '@/lib/review/pose/pose-faults';
import { PoseFinder, readPoseOffer, type PoseOffer, type PoseProgress } from '@/lib/review/pose/pose-finder';
import { jointOn } from './placing';

export type SuggestAim = 'points' | 'moments';

type Given = {
  /** The panel that offers it is open; when it closes everything that was loaded is let go. */
  isOpen: boolean;
  player: Player | null;
  clip: ClipOnPage | null;
  table: FrameTable | null;
  frame: number | null;
  bats: Hand | null;
  /** Which points count on this frame. */
  names: readonly JointName[];
  sheet: Sheet;
  saver: SheetSaver | null;
};

type Found = {
  clipId: string;
  joints: { frame: number; list: readonly SuggestedJoint[] } | null;
  moments: FoundMoments | null;
};

/** What the model proposes on the bench, and how somebody asks for it. Nothing of it counts until `take`. */
export interface Suggesting {
  /** Null where this installation has no model, or before that is known. */
  offer: PoseOffer | null;
  /** What is asked for while the box is drawn or the search runs. */
  aim: SuggestAim | null;
  setAim: (aim: SuggestAim | null) => void;
  box: PictureBox;
  setBox: (box: PictureBox) => void;
  /** How many frames the search would look at. */
  frameCount: number;
  progress: PoseProgress | null;
  refusal: string | null;
  start: () => void;
  /** Ends the search, or puts the box away. */
  cancel: () => void;
  /** Suggested points of this frame that nobody has set. */
  joints: readonly SuggestedJoint[];
  moments: FoundMoments | null;
  /** Makes suggested points into points of the sheet. */
  take: (joints: readonly SuggestedJoint[]) => void;
  putAway: () => void;
}

const MIDDLE: PictureBox = { x: 0.2, y: 0.05, width: 0.6, height: 0.9 };
const NO_SWING =
  'No swing was seen in the box. Draw it so that the hitter stays inside from load to contact, or find the frames in the strip.';

/** Asks the pose model for points of this frame or for the moments of this clip, and holds what it proposed. */
export function useSuggesting({
  isOpen,
  player,
  clip,
  table,
  frame,
  bats,
  names,
  sheet,
  saver,
}: Given): Suggesting {
  const [offer, setOffer] = useState<PoseOffer | null>(null);
  const [aim, setAimNow] = useState<SuggestAim | null>(null);
  const [box, setBox] = useState<PictureBox>(MIDDLE);
  const [progress, setProgress] = useState<PoseProgress | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [found, setFound] = useState<Found | null>(null);
  const finder = useRef<PoseFinder | null>(null);
  const search = useRef<AbortController | null>(null);

  useEffect(() => {
    if (!isOpen) return;
    const asking = new AbortController();
    void readPoseOffer(asking.signal).then((answer) => {
      if (!asking.signal.aborted) setOffer(answer);
    });
    return () => {
      asking.abort();
      search.current?.abort();
      finder.current?.dispose();
      finder.current = null;
      setAimNow(null);
    };
  }, [isOpen]);
  // Pictures of a player that is gone cannot be had any more.
  useEffect(() => () => search.current?.abort(), [player]);

  const plan = useMemo(() => {
    if (aim === 'points') return frame === null ? null : { frames: [frame], rate: 1 };
    return aim === 'moments' && table ? planFrames(table, frame ?? 0) : null;
  }, [aim, table, frame]);

  const setAim = useCallback((next: SuggestAim | null) => {
    setRefusal(null);
    setAimNow(next);
  }, []);
  const cancel = useCallback(() => {
    if (search.current) search.current.abort();
    else setAim(null);
  }, [setAim]);

  const look = async () => {
    if (!player || !clip || !bats || !plan || !aim || search.current) return;
    const own = new AbortController();
    search.current = own;
    setRefusal(null);
    setProgress({ is: 'loading', bytes: 0 });
    finder.current ??= new PoseFinder();
    try {
      const bodies = await finder.current.find(player.source, plan.frames, box, {
        signal: own.signal,
        onProgress: (next) => !own.signal.aborted && setProgress(next),
      });
      if (own.signal.aborted) return;
      const [body = null] = bodies;
      const list = aim === 'points' && body ? suggestJoints(body, bats, clip.view) : [];
      const moments = aim === 'moments' ? momentsFrom(plan, bodies, player.source) : null;
      if (aim === 'points' && list.length === 0) throw poseRefusal('nobody');
      if (aim === 'moments' && !moments) {
        if (bodies.every((one) => one === null)) throw poseRefusal('nobody');
        throw new CagepostError('invalid', NO_SWING);
      }
      setFound((before) => {
        const same = before?.clipId === clip.id ? before : null;
        return {
          clipId: clip.id,
          joints: aim === 'points' ? { frame: plan.frames[0] ?? 0, list } : (same?.joints ?? null),
          moments: moments ?? same?.moments ?? null,
        };
      });
      setAimNow(null);
    } catch (error) {
      if (isAbort(error) || own.signal.aborted) return;
      setRefusal(error instanceof CagepostError ? error.forPeople : poseRefusal('broken').forPeople);
    } finally {
      if (search.current === own) {
        search.current = null;
        setProgress(null);
      }
    }
  };

  const here = found && found.clipId === clip?.id ? found : null;
  const isSet = (name: JointName) =>
    sheet.joints.some((j) => j.clipId === clip?.id && j.frame === frame && j.name === name);
  const joints =
    here?.joints && here.joints.frame === frame
      ? here.joints.list.filter(({ name }) => names.includes(name) && !isSet(name))
      : [];
  const take = useCallback(
    (taken: readonly SuggestedJoint[]) => {
      if (!clip || frame === null) return;
      saver?.edit((before) =>
        taken.reduce((on, { name, point }) => jointOn(on, clip.id, frame, name, point), before),
      );
    },
    [clip, frame, saver],
  );
  return {
    offer,
    aim,
    setAim,
    box,
    setBox,
    frameCount: plan?.frames.length ?? 0,
    progress,
    refusal,
    start: () => void look(),
    cancel,
    joints,
    moments: here?.moments ?? null,
    take,
    putAway: () => setFound((before) => before && { ...before, joints: null }),
  };
}
