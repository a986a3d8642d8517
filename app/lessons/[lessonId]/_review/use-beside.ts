'use client';

import { useEffect, useMemo, useState } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { usePlayer, usePlayerSnapshot } from '@/app/lessons/_swing/players';
import type { Scene } from '@/lib/domain/breakdowns/event';
import { CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { Pin } from '@/lib/domain/review/sheet';
import { partnerFrame } from '@/lib/review/compare/pairing';
import type { Player, PlayerSnapshot } from '@/lib/review/player/player';

/** A clip of another lesson, or another of this one, that can stand beside the swing on the stage. */
export interface BesideClip {
  clip: ClipOnPage;
  words: string;
  pins: readonly Pin[];
}

export interface Beside {
  chosen: BesideClip | null;
  choose: (clipId: string | null) => void;
  player: Player | null;
  snapshot: Readonly<PlayerSnapshot>;
  fault: string | null;
  /** At which checkpoint the two are locked; null when no checkpoint is pinned on both. */
  lockedAt: Checkpoint | null;
  /** As a breakdown keeps it. */
  scene: Scene['beside'];
}

/** The checkpoint at which both clips are pinned: the open one if it can be, else the nearest to foot strike. */
const sharedCheckpoint = (one: readonly Pin[], two: readonly Pin[], at: Checkpoint): Checkpoint | null =>
  [at, 'foot_strike' as const, 'contact' as const, ...CHECKPOINTS].find(
    (checkpoint) =>
      one.some((pin) => pin.checkpoint === checkpoint) && two.some((pin) => pin.checkpoint === checkpoint),
  ) ?? null;

/** Holds a second clip, another of the lesson or one of `others`, beside the stage: it follows the first by real time from a checkpoint that is pinned on both. */
export function useBeside(given: {
  ready: readonly ClipOnPage[];
  others: readonly BesideClip[];
  player: Player | null;
  clipId: string | null;
  frame: number | null;
  isPlaying: boolean;
  pins: readonly Pin[];
  checkpoint: Checkpoint;
}): Beside & { besides: readonly BesideClip[] } {
  const { ready, others, player, clipId, frame, isPlaying, pins, checkpoint } = given;
  const [besideId, setBesideId] = useState<string | null>(null);
  const besides = useMemo(() => {
    const own = ready.map((clip, index) => ({
      clip,
      words: clip.view ? VIEW_WORD[clip.view] : `Clip ${index + 1}`,
      pins,
    }));
    return [...own.filter(({ clip }) => clip.id !== clipId), ...others];
  }, [ready, others, clipId, pins]);
  const chosen = besides.find((one) => one.clip.id === besideId && besideId !== clipId) ?? null;
  const other = usePlayer(chosen?.clip.id ?? null);
  const snapshot = usePlayerSnapshot(other.player);
  const own = useMemo(() => pins.filter((pin) => pin.clipId === clipId), [pins, clipId]);
  const theirs = useMemo(() => chosen?.pins.filter((pin) => pin.clipId === chosen.clip.id) ?? [], [chosen]);
  const lockedAt = chosen ? sharedCheckpoint(own, theirs, checkpoint) : null;
  const lock = (some: readonly Pin[]) => some.find((pin) => pin.checkpoint === lockedAt)?.frame ?? 0;
  const [here, there] = [lock(own), lock(theirs)];

  useEffect(() => {
    if (!player || !other.player || frame === null) return;
    const paired = (it: Player, lockedFrame: number) => ({
      ptsUs: it.source.ptsUs,
      stretch: it.stretch,
      lockedFrame,
    });
    const partner = partnerFrame(paired(player, here), frame, paired(other.player, there));
    // A moving picture is still shown when it comes a little late; a resting one is the wanted one alone.
    if (isPlaying) other.player.scrubMove(partner);
    else other.player.goTo(partner);
  }, [player, other.player, frame, isPlaying, here, there]);

  const id = chosen?.clip.id ?? null;
  const shown = snapshot.shownFrame;
  const scene = useMemo(
    () => (id !== null && shown !== null ? { clipId: id, frame: shown, opacity: 0 } : null),
    [id, shown],
  );
  return {
    besides,
    chosen,
    choose: setBesideId,
    player: other.player,
    snapshot,
    fault: other.fault,
    lockedAt,
    scene,
  };
}
