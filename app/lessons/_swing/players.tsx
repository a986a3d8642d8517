'use client';

import { createContext, useContext, useEffect, useState, useSyncExternalStore, type ReactNode } from 'react';
import { CagepostError } from '@/lib/domain/shared/errors';
import { isAbort } from '@/lib/review/media/frame-source';
import type { Player, PlayerSnapshot } from '@/lib/review/player/player';
import type { ClipOnPage } from './clip-on-page';
import { openPlayer } from './open-player';

/** The open clips of a page: each is opened once, when it is first asked for, and closed with the page. */
class OpenClips {
  private readonly open = new Map<string, Promise<Player>>();
  private stop = new AbortController();

  private clips: readonly ClipOnPage[] = [];

  /** A refresh of the page signs new addresses and may make clips ready; open players keep the address they have. */
  setClips(clips: readonly ClipOnPage[]): void {
    this.clips = clips;
  }

  player(clipId: string): Promise<Player> | null {
    const known = this.open.get(clipId);
    if (known) return known;
    const clip = this.clips.find((one) => one.id === clipId && one.state === 'ready');
    if (!clip) return null;
    this.revive();
    const opening = openPlayer(clip, this.stop.signal);
    opening.catch(() => this.open.delete(clipId)); // the next who asks tries again
    this.open.set(clipId, opening);
    return opening;
  }

  /** React runs effects twice while developing, those of the parts first: a closed set can be used again. */
  revive(): void {
    if (this.stop.signal.aborted) this.stop = new AbortController();
  }

  close(): void {
    this.stop.abort();
    for (const opening of this.open.values()) opening.then((player) => player.dispose()).catch(() => {});
    this.open.clear();
  }
}

const Clips = createContext<OpenClips | null>(null);

/** Gives the parts of a page their players; see `usePlayer`. */
export const PlayersOf = ({ clips, children }: { clips: readonly ClipOnPage[]; children: ReactNode }) => {
  const [open] = useState(() => new OpenClips());
  open.setClips(clips);
  useEffect(() => {
    open.revive();
    return () => open.close();
  }, [open]);
  return <Clips value={open}>{children}</Clips>;
};

export type PlayerState = { player: Player | null; fault: string | null };

/** The player of a clip of this page, opened when first asked for; null while it opens. `fault` is for people. */
export function usePlayer(clipId: string | null): PlayerState {
  const open = useContext(Clips);
  const [state, setState] = useState<PlayerState & { of: string | null }>({
    player: null,
    fault: null,
    of: null,
  });
  useEffect(() => {
    if (!clipId || !open) return;
    let isWanted = true;
    open
      .player(clipId)
      ?.then((player) => isWanted && setState({ player, fault: null, of: clipId }))
      .catch((error: unknown) => {
        if (!isWanted || isAbort(error)) return;
        const fault =
          error instanceof CagepostError
            ? error.forPeople
            : 'This clip could not be opened. Load the page again.';
        setState({ player: null, fault, of: clipId });
      });
    return () => {
      isWanted = false;
    };
  }, [clipId, open]);
  return state.of === clipId ? state : { player: null, fault: null };
}

const nothing = () => () => {};
const AT_REST: PlayerSnapshot = {
  mode: 'paused',
  wantedFrame: 0,
  shownFrame: null,
  speed: 1,
  loop: null,
  network: 'ok',
  fault: null,
};
const atRest = () => AT_REST;

/** What the player shows just now; a resting one before it is open. */
export const usePlayerSnapshot = (player: Player | null): Readonly<PlayerSnapshot> =>
  useSyncExternalStore(player?.subscribe ?? nothing, player?.getSnapshot ?? atRest, atRest);
