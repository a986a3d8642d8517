import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { CagepostError } from '@/lib/domain/shared/errors';
import { isAbort, type Picture } from '../media/frame-source';
import type { Player } from '../player/player';

/** Pictures of one clip for one pane. */
export interface FrameFeed {
  readonly size: PictureSize;
  readonly frameCount: number;
  /** Asks for a frame; the latest wins. While playing, a picture on its way is still given, so that motion is seen. */
  want(frame: number, isPlaying: boolean): void;
  /** Makes a frame ready that will be wanted soon. */
  expect(frame: number): void;
  fault(): CagepostError | null;
  retry(): void;
  dispose(): void;
}

/** So many frames around the present one a source has ready by itself. */
const NEAR_FRAMES = 12;

type Given = (picture: CanvasImageSource, frame: number) => void;

/** The pictures of a player, which stays its owner's. It is sent to `frame` before the first picture is given. */
export const playerFeed = (player: Player, frame: number, given: Given): FrameFeed => {
  player.goTo(frame);
  let wanted = { frame, isPlaying: false };
  const stop = player.onPicture((picture: Picture, index) => given(picture, index));
  return {
    size: player.source,
    frameCount: player.source.frameCount,
    want: (next, isPlaying) => {
      if (wanted.frame === next && wanted.isPlaying === isPlaying) return;
      wanted = { frame: next, isPlaying };
      if (isPlaying) player.scrubMove(next);
      else player.goTo(next);
    },
    expect: (next) => {
      // The player itself makes ready what is near.
      if (Math.abs(next - wanted.frame) > NEAR_FRAMES) player.source.prefetch(next, 0);
    },
    fault: () => player.getSnapshot().fault,
    retry: () => player.retry(),
    dispose: stop,
  };
};

/** Copies of a player's pictures, for a second pane that shows another frame of the same clip. */
export const copyFeed = (player: Player, frame: number, given: Given): FrameFeed => {
  const { source } = player;
  let wanted = -1;
  let stop = new AbortController();
  const want = (next: number) => {
    if (next === wanted) return;
    wanted = next;
    stop.abort();
    const mine = (stop = new AbortController());
    source.copyAt(next, source.width, mine.signal).then(
      (bitmap) => {
        if (!mine.signal.aborted) given(bitmap, next);
        bitmap.close();
      },
      // The player of the same clip has the same fault, and says it.
      (error: unknown) => {
        if (!isAbort(error) && wanted === next) wanted = -1;
      },
    );
  };
  want(frame);
  return {
    size: source,
    frameCount: source.frameCount,
    want,
    expect: () => {},
    fault: () => null,
    retry: () => {},
    dispose: () => stop.abort(),
  };
};
