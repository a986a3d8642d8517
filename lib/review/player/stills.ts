import { CagepostError } from '@/lib/domain/shared/errors';
import { FrameCache } from '../media/frame-cache';
import { isAbort, type FrameSource } from '../media/frame-source';

/** Some hundreds of strip cells. */
const THUMBNAIL_BYTES = 12 * 2 ** 20;
const JPEG_QUALITY = 0.86;

/** Small copies and stills of exact frames, made behind the stage's back. */
export class Stills {
  private cache = new FrameCache<ImageBitmap>(THUMBNAIL_BYTES);
  private cachedWidth = 0;
  private isDisposed = false;

  constructor(private readonly source: FrameSource) {}

  async thumbnails(
    indices: readonly number[],
    width: number,
    draw: (index: number, bitmap: ImageBitmap) => void,
    signal?: AbortSignal,
  ): Promise<void> {
    const wide = Math.max(1, Math.round(width));
    if (wide !== this.cachedWidth) this.cache.clear();
    this.cachedWidth = wide;

    const isMissing = (index: number) => {
      const bitmap = this.cache.peek(index);
      this.cache.touch(index);
      if (bitmap) draw(index, bitmap);
      return !bitmap;
    };
    for (const index of indices.filter(isMissing)) {
      if (signal?.aborted || this.isDisposed) return;
      try {
        const bitmap = await this.source.copyAt(index, wide, signal);
        if (signal?.aborted || this.isDisposed || wide !== this.cachedWidth) return bitmap.close();
        this.cache.put(index, bitmap, bitmap.width * bitmap.height * 4);
        draw(index, bitmap);
      } catch (error) {
        if (isAbort(error)) return;
        throw error;
      }
    }
  }

  async still(index: number, maxWidth: number, signal?: AbortSignal): Promise<Blob> {
    const width = Math.max(1, Math.min(Math.round(maxWidth), this.source.width));
    const bitmap = await this.source.copyAt(index, width, signal);
    try {
      return await jpegOf(bitmap);
    } finally {
      bitmap.close();
    }
  }

  dispose(): void {
    this.isDisposed = true;
    this.cache.clear();
  }
}

async function jpegOf(bitmap: ImageBitmap): Promise<Blob> {
  // Not an OffscreenCanvas: Safari before 16.4 has none with a 2d context.
  const canvas = document.createElement('canvas');
  canvas.width = bitmap.width;
  canvas.height = bitmap.height;
  canvas.getContext('2d', { alpha: false })?.drawImage(bitmap, 0, 0);
  const blob = await new Promise<Blob | null>((resolve) =>
    canvas.toBlob(resolve, 'image/jpeg', JPEG_QUALITY),
  );
  canvas.width = 0;
  canvas.height = 0;
  if (!blob) throw new CagepostError('unsupported', 'This browser could not make a picture of the frame.');
  return blob;
}
