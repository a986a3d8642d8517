/**
 * One exact frame, upright, to be drawn with `drawImage(picture, 0, 0, w, h)`. It belongs to its source: draw it at
 * once and never keep or close it; after the next `frameAt` of the same source it may carry another frame.
 */
export type Picture = ImageBitmap | OffscreenCanvas | HTMLVideoElement;

/** Which way the person is going: back, resting or forth. */
export type Direction = -1 | 0 | 1;

/** `waiting`: the connection is lost, what is loaded stays usable and the fetch is tried again by itself. */
export type NetworkState = 'ok' | 'waiting';

/** What a source holds in memory just now. */
export interface Held {
  frames: number;
  bytes: number;
}

/**
 * The frames of one clip, addressed by display index 0 to `frameCount - 1`, never by time. Every adapter shows
 * exactly the frame asked for or rejects with a CagepostError; a superseded or aborted request rejects with a
 * DOMException named AbortError.
 */
export interface FrameSource {
  readonly engine: 'webcodecs' | 'element';
  /** Size of the upright picture in pixels of the rendition: the space in which marks live. */
  readonly width: number;
  readonly height: number;
  readonly frameCount: number;
  /** Presentation timestamp of each frame in microseconds, strictly rising. */
  readonly ptsUs: readonly number[];
  /** The picture when it is at hand this instant, else null. Never starts work. */
  peek(index: number): Picture | null;
  /** The picture of this frame. The latest call wins: an earlier one still open is aborted. */
  frameAt(index: number, signal?: AbortSignal): Promise<Picture>;
  /** Says where the person is and which way they go, so that the frames to come are ready before they are asked for. */
  prefetch(index: number, direction: Direction): void;
  /** A copy for the caller to keep and close, `width` pixels wide. Made when the stage needs nothing. */
  copyAt(index: number, width: number, signal?: AbortSignal): Promise<ImageBitmap>;
  held(): Held;
  /** Tells when the connection is lost and when it is back, until the returned function is called. */
  onNetwork(listener: (state: NetworkState) => void): () => void;
  /** Tries again at once after a lost connection instead of waiting for the next turn. */
  retry(): void;
  /** Closes every frame, stops every request. Open requests reject with AbortError. */
  dispose(): void;
}

/** The error of a request that nobody waits for any more. */
export const abortError = (reason: string) => new DOMException(reason, 'AbortError');

export const isAbort = (error: unknown) => error instanceof DOMException && error.name === 'AbortError';
