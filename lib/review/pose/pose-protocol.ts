/** Closed: why no pose came. Each has its sentence in pose-faults. */
export type PoseFault = 'too-old' | 'out-of-memory' | 'model-missing' | 'broken';

/** A point of the body as the model gives it: fractions of the picture it was shown, and how sure it is that it is seen, 0 to 1. */
export interface ModelPoint {
  readonly x: number;
  readonly y: number;
  readonly visibility: number;
}

/** What the page asks of the worker. The picture is handed over and closed there. */
export interface PoseQuestion {
  readonly id: number;
  readonly picture: ImageBitmap;
}

/** What the worker says: how much is loaded, that it is ready, the 33 points of a picture (null: nobody), or why not. */
export type PoseAnswer =
  | { readonly is: 'loading'; readonly bytes: number }
  | { readonly is: 'ready' }
  | { readonly is: 'pose'; readonly id: number; readonly points: readonly ModelPoint[] | null }
  | { readonly is: 'failed'; readonly fault: PoseFault; readonly detail: string };
