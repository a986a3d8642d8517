import type { Scene } from '@/lib/domain/breakdowns/event';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Player } from '../player/player';
import { copyFeed, playerFeed } from './frame-feed';
import { createPane, type Pane, type PaneScene } from './pane';

export type OpenPlayer = (clipId: string) => Promise<Player> | Player;

/** The stage of a replay: the clip that is spoken about, and at times a second one beside or over it. */
export interface ReplayView {
  show(scene: Scene, isPlaying: boolean): void;
  /** Opens a clip that will be shown some time. */
  open(clipId: string): void;
  /** Makes a frame ready that will be shown soon. */
  expect(clipId: string, frame: number): void;
  /** What is really drawn; null before the first picture. */
  shown(): { clipId: string; frame: number } | null;
  /** The drawn picture is the wanted one, or there will be none. */
  isThere(): boolean;
  fault(): CagepostError | null;
  /** The main pane, for looking around by hand; null while its clip is not open. */
  main(): Pane | null;
  retry(): void;
  flush(): void;
  dispose(): void;
}

interface Opened {
  player: Player | null;
  fault: CagepostError | null;
}

/** Where two panes lie: side by side on a wide stage, one above the other on a tall one, or one over the other. */
const PLACES = {
  whole: '0',
  left: '0 50% 0 0',
  right: '0 0 0 50%',
  top: '0 0 50% 0',
  bottom: '50% 0 0 0',
} as const;

export const createReplayView = (
  stage: HTMLElement,
  openPlayer: OpenPlayer,
  onChange: () => void,
): ReplayView => {
  const clips = new Map<string, Opened>();
  const stops = new Map<string, () => void>();
  let scene: Scene | null = null;
  let isPlaying = false;
  let isDisposed = false;
  let isWide = stage.clientWidth >= stage.clientHeight;

  const makeSlot = () => {
    const root = stage.ownerDocument.createElement('div');
    root.setAttribute('aria-hidden', 'true');
    Object.assign(root.style, { position: 'absolute', inset: PLACES.whole, pointerEvents: 'none' });
    stage.append(root);
    return {
      root,
      place: 'whole' as keyof typeof PLACES,
      pane: null as Pane | null,
      /** The pane of the clip before, to be seen until the first picture of this one. */
      leaving: null as Pane | null,
    };
  };
  const main = makeSlot();
  const second = makeSlot();

  const open = (clipId: string) => {
    if (clips.has(clipId)) return;
    const entry: Opened = { player: null, fault: null };
    clips.set(clipId, entry);
    Promise.resolve()
      .then(() => openPlayer(clipId))
      .then(
        (player) => {
          if (isDisposed) return;
          entry.player = player;
          stops.set(clipId, player.subscribe(onChange));
          update();
          onChange();
        },
        (error: unknown) => {
          if (isDisposed) return;
          entry.fault = error instanceof CagepostError ? error : cannotOpen(error);
          onChange();
        },
      );
  };

  /** Puts the clip into the slot when it is open; until then what was seen before stays. */
  const fill = (slot: typeof main, clipId: string, next: PaneScene) => {
    open(clipId);
    const player = clips.get(clipId)?.player;
    if (slot.pane?.clipId === clipId) return slot.pane.show(next, isPlaying);
    if (!player) return;
    slot.leaving?.dispose();
    slot.leaving = slot.pane;
    const isTaken = slot === second && main.pane?.clipId === clipId;
    slot.pane = createPane({
      root: slot.root,
      clipId,
      first: next,
      pictureSize: player.source,
      openFeed: (frame, given) => (isTaken ? copyFeed : playerFeed)(player, frame, given),
      onShown: () => {
        slot.leaving?.dispose();
        slot.leaving = null;
        onChange();
      },
    });
  };
  const empty = (slot: typeof main) => {
    slot.leaving?.dispose();
    slot.pane?.dispose();
    slot.pane = slot.leaving = null;
  };

  const place = (slot: typeof main, where: keyof typeof PLACES) => {
    if (slot.place === where) return;
    slot.place = where;
    slot.root.style.inset = PLACES[where];
    slot.pane?.resize();
  };

  const arrange = () => {
    const beside = scene?.beside ?? null;
    const isSplit = beside !== null && beside.opacity === 0;
    const [one, two] = !isSplit
      ? (['whole', 'whole'] as const)
      : isWide
        ? (['left', 'right'] as const)
        : (['top', 'bottom'] as const);
    place(main, one);
    place(second, two);
    second.root.style.opacity = beside && !isSplit ? String(beside.opacity) : '1';
  };

  function update(): void {
    if (!scene || isDisposed) return;
    const { beside } = scene;
    arrange();
    // The second pane may have the player that the main one is about to take.
    if (second.pane && second.pane.clipId === scene.clipId && main.pane?.clipId !== scene.clipId)
      empty(second);
    fill(main, scene.clipId, scene);
    if (beside) fill(second, beside.clipId, { ...scene, frame: beside.frame, pointer: null });
    else empty(second);
  }

  const watch = new ResizeObserver(() => {
    isWide = stage.clientWidth >= stage.clientHeight;
    arrange();
    for (const { pane } of [main, second]) pane?.resize();
    for (const { pane } of [main, second]) pane?.flush();
    onChange();
  });
  watch.observe(stage);

  return {
    show: (next, playing) => {
      scene = next;
      isPlaying = playing;
      update();
    },
    open,
    expect: (clipId, frame) => {
      open(clipId);
      if (main.pane?.clipId === clipId) main.pane.feed.expect(frame);
      else if (second.pane?.clipId !== clipId) clips.get(clipId)?.player?.goTo(frame);
    },
    shown: () => {
      const frame = main.pane?.shownFrame() ?? null;
      return main.pane && frame !== null ? { clipId: main.pane.clipId, frame } : null;
    },
    isThere: () => {
      if (!scene || clips.get(scene.clipId)?.fault || main.pane?.feed.fault()) return true;
      return main.pane?.clipId === scene.clipId && main.pane.shownFrame() === main.pane.wantedFrame();
    },
    fault: () =>
      (scene && clips.get(scene.clipId)?.fault) ??
      (scene?.beside && clips.get(scene.beside.clipId)?.fault) ??
      main.pane?.feed.fault() ??
      second.pane?.feed.fault() ??
      null,
    main: () => main.pane,
    retry: () => {
      for (const [clipId, { fault }] of clips) if (fault) clips.delete(clipId);
      for (const { pane } of [main, second]) if (pane?.feed.fault()) pane.feed.retry();
      update();
    },
    flush: () => {
      main.pane?.flush();
      second.pane?.flush();
    },
    dispose: () => {
      isDisposed = true;
      watch.disconnect();
      for (const stop of stops.values()) stop();
      for (const slot of [main, second]) {
        empty(slot);
        slot.root.remove();
      }
    },
  };
};

const cannotOpen = (cause: unknown) =>
  new CagepostError(
    'unavailable',
    'The pictures of this breakdown could not be loaded. The voice plays on. Try again in a moment.',
    {},
    { cause },
  );
