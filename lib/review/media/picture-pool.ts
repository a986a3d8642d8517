import { CagepostError } from '@/lib/domain/shared/errors';

/** A picture that the cache keeps and gives back by `close`. */
export interface KeptPicture {
  readonly image: ImageBitmap | OffscreenCanvas;
  close(): void;
}

export interface PictureShape {
  width: number;
  height: number;
  /** Clockwise degrees from the coded picture to the upright one. */
  rotation: number;
}

/**
 * Turns decoded frames into upright pictures to keep. A frame that was decoded in software is copied into a canvas
 * that is used again and again: asking the system for several megabytes a frame costs more than decoding it.
 * A hardware frame becomes an ImageBitmap, which stays on the graphics card. Either way the frame itself can be
 * closed at once: holding frames stalls hardware decoders, which own a handful of surfaces.
 */
export class PicturePool {
  private free: OffscreenCanvas[] = [];
  private buffers: Uint8ClampedArray<ArrayBuffer>[] = [];
  private isDisposed = false;

  constructor(private readonly shape: PictureShape) {}

  /** The frame stays the caller's to close. */
  async keep(frame: VideoFrame): Promise<KeptPicture> {
    const { width, height, rotation } = this.shape;
    const isUpright = rotation === 0 && frame.displayWidth === width && frame.displayHeight === height;
    if (isUpright && this.canCopy(frame)) return this.copied(frame);
    const image = isUpright ? await createImageBitmap(frame) : this.turned(frame);
    return { image, close: () => image.close() };
  }

  dispose(): void {
    this.isDisposed = true;
    this.free = [];
    this.buffers = [];
  }

  /** Browsers that cannot convert while copying ignore the format and tell a smaller size. */
  private canCopy(frame: VideoFrame): boolean {
    const { width, height } = this.shape;
    if (frame.format !== 'I420' || frame.visibleRect?.width !== width || frame.visibleRect.height !== height)
      return false;
    try {
      return frame.allocationSize({ format: 'RGBA' }) === width * height * 4;
    } catch {
      return false;
    }
  }

  private async copied(frame: VideoFrame): Promise<KeptPicture> {
    const { width, height } = this.shape;
    const buffer = this.buffers.pop() ?? new Uint8ClampedArray(width * height * 4);
    const canvas = this.free.pop() ?? new OffscreenCanvas(width, height);
    await frame.copyTo(buffer, { format: 'RGBA' });
    contextOf(canvas).putImageData(new ImageData(buffer, width, height), 0, 0);
    this.buffers.push(buffer);
    return {
      image: canvas,
      close: () => {
        if (!this.isDisposed) this.free.push(canvas);
      },
    };
  }

  private turned(frame: VideoFrame): ImageBitmap {
    const { width, height, rotation } = this.shape;
    const canvas = new OffscreenCanvas(width, height);
    const context = contextOf(canvas);
    context.translate(width / 2, height / 2);
    context.rotate((rotation * Math.PI) / 180);
    const [wide, high] = rotation % 180 === 0 ? [width, height] : [height, width];
    context.drawImage(frame, -wide / 2, -high / 2, wide, high);
    return canvas.transferToImageBitmap();
  }
}

function contextOf(canvas: OffscreenCanvas): OffscreenCanvasRenderingContext2D {
  const context = canvas.getContext('2d', { alpha: false, willReadFrequently: true });
  if (!context) throw new CagepostError('unsupported', 'This browser gave no canvas to keep the picture on.');
  return context;
}
