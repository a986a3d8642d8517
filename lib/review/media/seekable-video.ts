import { CagepostError } from '@/lib/domain/shared/errors';
import type { ClipFetch } from './clip-fetch';
import { frameAtTime, frameDurationUs } from './frame-lookup';
import { abortError } from './frame-source';

const MOST_TRIES = 3;
/** Where in a frame's time each try aims: the middle, then nearer to either end in case the browser rounds oddly. */
const AIMS = [0.5, 0.7, 0.3];
/** A seek that shows the same picture again may present nothing; then `currentTime` alone has to do. */
const PRESENT_WITHIN_MS = 500;

/**
 * A `<video>` that shows one exact frame at a time: seeks into the middle of the frame's time by the stored table
 * and believes only the time that the browser says it presented (`requestVideoFrameCallback`), at most three tries.
 */
export class SeekableVideo {
  readonly element: HTMLVideoElement;
  /** The frame that is known to be on the element, or null. */
  shown: number | null = null;
  private isDisposed = false;
  private readonly life = new AbortController();

  constructor(
    private readonly clip: ClipFetch,
    private readonly ptsUs: readonly number[],
  ) {
    const video = document.createElement('video');
    video.muted = true;
    video.playsInline = true;
    video.preload = 'auto';
    video.disablePictureInPicture = true;
    this.element = video;
  }

  /** Loads the clip up to its size and length. A dead address is renewed once, a lost connection waited for. */
  async load(signal?: AbortSignal): Promise<void> {
    for (let attempt = 0; ; attempt++) {
      this.shown = null;
      this.element.src = this.clip.currentUrl;
      try {
        return await this.untilEvent('loadeddata', signal);
      } catch (error) {
        if (!(error instanceof MediaFailure) || attempt > 0) throw asCagepostError(error);
        await this.clip.fetch(null, { headers: { Range: 'bytes=0-0' }, signal: this.life.signal });
      }
    }
  }

  /** Shows the frame and resolves in the same task in which it was presented, so that a drawing then is exact. */
  async show(index: number): Promise<HTMLVideoElement> {
    if (this.shown === index) return this.element;
    this.shown = null;
    let seen: number | null = null;
    for (let attempt = 0; attempt < MOST_TRIES; attempt++) {
      try {
        seen = await this.seek(this.timeIn(index, attempt));
      } catch (error) {
        if (!(error instanceof MediaFailure)) throw error;
        await this.load();
        continue;
      }
      if (seen !== null && this.isFrame(index, seen)) {
        this.shown = index;
        return this.element;
      }
    }
    throw new CagepostError(
      'unsupported',
      'This browser could not stop exactly on this frame, so it is not shown. Try again, or open the lesson in another browser.',
      { index, wantedUs: this.ptsUs[index], seenSeconds: seen },
    );
  }

  /** Lets go of the decoder and the connection: pausing and dropping the source is what frees them in Safari. */
  dispose(): void {
    this.isDisposed = true;
    this.life.abort();
    this.shown = null;
    this.element.pause();
    this.element.removeAttribute('src');
    this.element.load();
  }

  private timeIn(index: number, attempt: number): number {
    const start = this.ptsUs[index] ?? 0;
    return (start + frameDurationUs(this.ptsUs, index) * (AIMS[attempt] ?? 0.5)) / 1e6;
  }

  private isFrame(index: number, seconds: number): boolean {
    const distance = Math.abs(seconds * 1e6 - (this.ptsUs[index] ?? 0));
    return distance <= Math.min(2_000, frameDurationUs(this.ptsUs, index) / 4);
  }

  /** Seconds of the picture that the browser presented after the seek; null when it did not say. */
  private async seek(seconds: number): Promise<number | null> {
    const { element } = this;
    const hasCallback = 'requestVideoFrameCallback' in element;
    const presented = hasCallback ? this.untilPresented() : null;
    try {
      const seeked = this.untilEvent('seeked');
      element.currentTime = seconds;
      await seeked;
      if (presented) return await presented.promise;
      return (this.ptsUs[frameAtTime(this.ptsUs, element.currentTime * 1e6)] ?? 0) / 1e6;
    } finally {
      presented?.cancel();
    }
  }

  private untilPresented() {
    const { element } = this;
    let handle = 0;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const promise = new Promise<number | null>((resolve) => {
      handle = element.requestVideoFrameCallback((_now, { mediaTime }) => resolve(mediaTime));
      const giveUp = () => {
        // A hidden tab presents nothing; that is no failure of the seek.
        if (document.hidden && !this.isDisposed) timer = setTimeout(giveUp, PRESENT_WITHIN_MS);
        else resolve(null);
      };
      element.addEventListener('seeked', () => (timer = setTimeout(giveUp, PRESENT_WITHIN_MS)), {
        once: true,
      });
    });
    const cancel = () => {
      element.cancelVideoFrameCallback(handle);
      clearTimeout(timer);
    };
    return { promise, cancel };
  }

  private async untilEvent(name: 'loadeddata' | 'seeked', signal?: AbortSignal): Promise<void> {
    const { element, life } = this;
    const until = new AbortController();
    try {
      await new Promise<void>((resolve, reject) => {
        const once = { once: true, signal: until.signal };
        const stop = () => reject(abortError('The clip was closed.'));
        if (this.isDisposed || signal?.aborted) return stop();
        element.addEventListener(name, () => resolve(), once);
        element.addEventListener('error', () => reject(new MediaFailure(element.error)), once);
        life.signal.addEventListener('abort', stop, once);
        signal?.addEventListener('abort', stop, once);
      });
    } finally {
      until.abort();
    }
  }
}

class MediaFailure extends Error {
  constructor(readonly reason: MediaError | null) {
    super(reason?.message ?? 'The video element failed.');
  }
}

const asCagepostError = (error: unknown) =>
  error instanceof MediaFailure
    ? new CagepostError(
        'unsupported',
        'This browser cannot play this clip. Try another browser or a newer one.',
        {
          code: error.reason?.code,
          reason: error.message,
        },
      )
    : error;
