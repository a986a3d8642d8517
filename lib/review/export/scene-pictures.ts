import type { Scene } from '@/lib/domain/breakdowns/event';
import type { ScenePicture, ScenePictures } from '../canvas/paint-scene';
import type { FrameSource } from '../media/frame-source';

/** This many clips are open at a time: what stands beside needs two. */
const MOST_OPEN = 2;

interface Plate {
  canvas: HTMLCanvasElement;
  clipId: string;
  frame: number;
}

/**
 * The pictures of a breakdown's scenes, one after the other. Clips are opened when first needed and closed when two
 * others are; each picture is kept on a plate until another frame is wanted. Dispose of it to close everything.
 */
export class ScenePictureRun {
  private readonly open = new Map<string, FrameSource>();
  private readonly plates = new Map<'main' | 'beside', Plate>();

  constructor(
    private readonly openSource: (clipId: string, signal?: AbortSignal) => Promise<FrameSource>,
    private readonly signal?: AbortSignal,
  ) {}

  /** Gives the exact frames of the scene. Valid until the next call. */
  async of(scene: Scene): Promise<ScenePictures> {
    const main = await this.picture('main', scene.clipId, scene.frame);
    const beside = scene.beside
      ? await this.picture('beside', scene.beside.clipId, scene.beside.frame)
      : null;
    return { main, beside };
  }

  dispose(): void {
    for (const source of this.open.values()) source.dispose();
    this.open.clear();
    for (const { canvas } of this.plates.values()) canvas.width = canvas.height = 0;
    this.plates.clear();
  }

  private async picture(role: 'main' | 'beside', clipId: string, frame: number): Promise<ScenePicture> {
    const source = await this.source(clipId);
    const plate = this.plates.get(role);
    const { width, height } = source;
    if (plate?.clipId === clipId && plate.frame === frame) return { image: plate.canvas, width, height };
    source.prefetch(frame, plate?.clipId === clipId && plate.frame > frame ? -1 : 1);
    const image = await source.frameAt(frame, this.signal);
    const canvas = plate?.canvas ?? document.createElement('canvas');
    if (canvas.width !== width) canvas.width = width;
    if (canvas.height !== height) canvas.height = height;
    canvas
      .getContext('2d', { alpha: false, willReadFrequently: true })
      ?.drawImage(image, 0, 0, width, height);
    this.plates.set(role, { canvas, clipId, frame });
    return { image: canvas, width, height };
  }

  private async source(clipId: string): Promise<FrameSource> {
    const known = this.open.get(clipId);
    if (known) {
      this.open.delete(clipId);
      this.open.set(clipId, known);
      return known;
    }
    const source = await this.openSource(clipId, this.signal);
    this.open.set(clipId, source);
    for (const [id, oldest] of this.open) {
      if (this.open.size <= MOST_OPEN) break;
      oldest.dispose();
      this.open.delete(id);
    }
    return source;
  }
}
