import { abortError, type FrameSource } from '../media/frame-source';
import { onPicture, type PictureBox } from './body-points';
import { poseRefusal } from './pose-faults';
import type { ModelPoint, PoseAnswer, PoseQuestion } from './pose-protocol';

/** What is loaded, in bytes, or how many frames are looked at. */
export type PoseProgress =
  | { readonly is: 'loading'; readonly bytes: number }
  | { readonly is: 'looking'; readonly done: number; readonly of: number };

/** What suggestions cost to load, in bytes. */
export interface PoseOffer {
  readonly bytes: number;
}

/** Whether this installation has the model, and what it costs; null when it has none or cannot be asked. */
export async function readPoseOffer(signal?: AbortSignal): Promise<PoseOffer | null> {
  try {
    const response = await fetch('/pose/offer.json', { signal });
    const offer: unknown = response.ok ? await response.json() : null;
    if (typeof offer !== 'object' || offer === null || !('isOffered' in offer) || !('bytes' in offer))
      return null;
    return offer.isOffered === true && typeof offer.bytes === 'number' ? { bytes: offer.bytes } : null;
  } catch {
    return null;
  }
}

const startWorker = () => new Worker('/pose/worker.mjs', { type: 'module', name: 'pose' });

/**
 * Finds a body on exact frames of a clip, in a worker that loads the model when it is first asked and keeps it. One
 * search at a time; pictures go to the worker of the same page and nowhere else.
 */
export class PoseFinder {
  private worker: Worker | null = null;
  private isReady = false;
  private isDisposed = false;
  private tell: ((answer: PoseAnswer) => void) | null = null;
  private loaded = 0;
  private asked = 0;

  constructor(private readonly start: () => Worker = startWorker) {}

  /**
   * The model's points of each frame in fractions of the whole picture, null where nobody was found in the box.
   * Rejects with the words of a CagepostError, or AbortError when `signal` aborts.
   */
  async find(
    source: FrameSource,
    frames: readonly number[],
    box: PictureBox,
    { signal, onProgress }: { signal: AbortSignal; onProgress: (progress: PoseProgress) => void },
  ): Promise<readonly (readonly ModelPoint[] | null)[]> {
    const edges = edgesOf(box, source);
    try {
      await this.open(signal, onProgress);
      const found: (readonly ModelPoint[] | null)[] = [];
      for (const frame of frames) {
        onProgress({ is: 'looking', done: found.length, of: frames.length });
        const whole = await source.copyAt(frame, source.width, signal);
        let picture: ImageBitmap;
        try {
          picture = await createImageBitmap(whole, edges.left, edges.top, edges.width, edges.height);
        } finally {
          whole.close();
        }
        found.push(await this.ask(picture, signal));
      }
      onProgress({ is: 'looking', done: found.length, of: frames.length });
      const exact = {
        x: edges.left / source.width,
        y: edges.top / source.height,
        width: edges.width / source.width,
        height: edges.height / source.height,
      };
      return found.map((points) => points && onPicture(points, exact));
    } catch (error) {
      // A worker that failed or was left in the middle of a frame is not asked again.
      this.end();
      throw error;
    }
  }

  /** Ends the worker and with it everything that was loaded. */
  dispose(): void {
    this.isDisposed = true;
    this.end();
  }

  private end(): void {
    this.worker?.terminate();
    this.worker = null;
    this.isReady = false;
    this.tell?.({ is: 'failed', fault: 'broken', detail: 'ended' });
    this.tell = null;
  }

  private async open(signal: AbortSignal, onProgress: (progress: PoseProgress) => void): Promise<void> {
    if (this.isDisposed) throw abortError('The finder is gone.');
    if (this.isReady) return;
    this.loaded = 0;
    await this.next(signal, (worker) => {
      if (worker) return;
      const made = this.start();
      made.onmessage = (event: MessageEvent<PoseAnswer>) => {
        if (event.data.is !== 'loading') return this.tell?.(event.data);
        this.loaded = event.data.bytes;
        onProgress({ is: 'loading', bytes: this.loaded });
      };
      made.onerror = (event) => {
        event.preventDefault();
        const fault = this.loaded === 0 && !this.isReady ? 'model-missing' : 'broken';
        this.tell?.({ is: 'failed', fault, detail: event.message });
      };
      this.worker = made;
    });
    this.isReady = true;
  }

  private async ask(picture: ImageBitmap, signal: AbortSignal): Promise<readonly ModelPoint[] | null> {
    const id = (this.asked += 1);
    const question: PoseQuestion = { id, picture };
    const answer = await this.next(signal, (worker) => worker?.postMessage(question, [picture]));
    return answer.is === 'pose' && answer.id === id ? answer.points : null;
  }

  private next(signal: AbortSignal, begin: (worker: Worker | null) => void): Promise<PoseAnswer> {
    return new Promise<PoseAnswer>((resolve, reject) => {
      const onAbort = () => {
        this.tell = null;
        reject(abortError('Nobody waits for the suggestion any more.'));
      };
      if (signal.aborted) return onAbort();
      signal.addEventListener('abort', onAbort, { once: true });
      this.tell = (answer) => {
        this.tell = null;
        signal.removeEventListener('abort', onAbort);
        if (answer.is === 'failed') reject(poseRefusal(answer.fault, answer.detail));
        else resolve(answer);
      };
      begin(this.worker);
    });
  }
}

// Whole pixels inside the picture, at least some of them.
const edgesOf = (box: PictureBox, { width, height }: FrameSource) => {
  const pixel = (part: number, length: number) => Math.max(0, Math.min(length, Math.round(part * length)));
  const left = Math.min(pixel(box.x, width), width - 1);
  const top = Math.min(pixel(box.y, height), height - 1);
  return {
    left,
    top,
    width: Math.max(1, pixel(box.x + box.width, width) - left),
    height: Math.max(1, pixel(box.y + box.height, height) - top),
  };
};
