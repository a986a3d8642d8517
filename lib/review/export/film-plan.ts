import type { Scene } from '@/lib/domain/breakdowns/event';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { Mark } from '@/lib/domain/marks/mark';
import { marksSeen, partsOf, type SceneStage } from '../canvas/paint-scene';
import {
  CHALK_COLOUR,
  EDGE,
  EDGE_OPACITY,
  guessTextWidth,
  labelBox,
  LABEL_OPACITY,
  LABEL_SIZE,
  shapeOf,
} from '../canvas/shape';
import { toScreen, type Viewport } from '../canvas/viewport';
import { assFill, assWords, FILM_COLOURS, flattenPath, plainAss, strokeOutlines } from './ass-drawing';
import { pictureRun } from './picture-run';
import { writtenCues } from './written-cues';

const SHORT_SIDE = 720;
const SCREEN_SIDE = 480;
const CAPTION_SIZE = 17;

/** A rectangle in whole pixels. */
export interface FilmRect {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** A part of a clip's frame and where it lies in the film's picture. */
export interface FilmLayer {
  clipId: string;
  frame: number;
  from: FilmRect;
  to: FilmRect;
  opacity: number;
}

/**
 * What a film of a breakdown consists of, for an engine without a canvas: pictures that differ, each with its layers
 * from the back, and a script of drawings (Advanced SubStation Alpha) in which picture `n` stands at `n` tenths of a
 * second, whatever its real time.
 */
export interface FilmPlan {
  width: number;
  height: number;
  durationMs: number;
  pictures: { atMs: number; layers: FilmLayer[] }[];
  script: string;
}

/** Plans the film of a breakdown. `sizes`: of the clips' renditions; `cues` are drawn in where given. */
export function planFilm(
  timeline: Timeline,
  sizes: ReadonlyMap<string, PictureSize>,
  cues: readonly Cue[] | null,
): FilmPlan {
  const words = cues === null ? [] : cues.length > 0 ? cues : writtenCues(timeline);
  const run = [...pictureRun(timeline, words)];
  const first = sizes.get(run[0]?.scene.clipId ?? '') ?? { width: 16, height: 9 };
  const { stage, width, height } = filmStage(first);
  const lines = new LineKeeper();
  const pictures = run.map(({ atMs, scene, caption }, index) => {
    const parts = partsSeen(scene, stage, sizes);
    for (const { clipId, frame, view, left } of parts)
      if (scene.isChalkShown)
        for (const mark of marksSeen(scene.marks, clipId, frame))
          for (const line of drawnMark(mark, view, left, stage.dpr)) lines.draw(index, 0, line);
    const [main] = parts;
    if (main && scene.pointer) {
      const { left, top } = toScreen(main.view, scene.pointer);
      const ring = `M${left - 15} ${top}A15 15 0 1 1 ${left + 15} ${top}A15 15 0 1 1 ${left - 15} ${top}Z`;
      lines.draw(index, 1, assFill(strokeOutlines(ring, 7, [], stage.dpr), FILM_COLOURS.edge, EDGE_OPACITY));
      lines.draw(index, 2, assFill(strokeOutlines(ring, 3, [], stage.dpr), FILM_COLOURS.words, 1));
    }
    if (caption.trim() !== '') lines.draw(index, 3, plainAss(caption), 'Caption');
    return { atMs, layers: parts.flatMap((part) => layerOf(part, stage)) };
  });
  return {
    ...{ width, height, pictures },
    durationMs: timeline.durationMs,
    script: scriptOf(width, height, CAPTION_SIZE * stage.dpr, lines.all()),
  };
}

const filmStage = (first: PictureSize): { stage: SceneStage; width: number; height: number } => {
  const shrink = Math.min(1, SHORT_SIDE / Math.min(first.width, first.height));
  const even = (length: number) => Math.max(2, 2 * Math.round((length * shrink) / 2));
  const [width, height] = [even(first.width), even(first.height)];
  const dpr = Math.max(1, Math.min(width, height) / SCREEN_SIDE);
  return { stage: { width: width / dpr, height: height / dpr, dpr }, width, height };
};

const partsSeen = (scene: Scene, stage: SceneStage, sizes: ReadonlyMap<string, PictureSize>) => {
  const pictureOf = (clipId: string | undefined) => {
    const size = clipId === undefined ? undefined : sizes.get(clipId);
    // Nothing is painted here: only the sizes are asked for.
    return size ? { ...size, image: null as never } : null;
  };
  return partsOf(scene, stage, { main: pictureOf(scene.clipId), beside: pictureOf(scene.beside?.clipId) });
};

/** What of a picture is in sight, and where; nothing when none of it is. */
const layerOf = (part: ReturnType<typeof partsOf>[number], stage: SceneStage): FilmLayer[] => {
  const { view, clipId, frame, opacity } = part;
  const { picture, scale } = view;
  const inSight = (length: number, start: number, room: number) => {
    const from = Math.max(0, Math.round(-start / scale));
    const to = Math.min(length, Math.round((room - start) / scale));
    return { from, length: to - from };
  };
  const across = inSight(picture.width, view.left, view.stage.width);
  const down = inSight(picture.height, view.top, stage.height);
  if (across.length < 2 || down.length < 2) return [];
  const px = (css: number) => Math.round(css * stage.dpr);
  const [x, y] = [px(part.left + view.left + across.from * scale), px(view.top + down.from * scale)];
  return [
    {
      ...{ clipId, frame, opacity },
      from: { x: across.from, y: down.from, width: across.length, height: down.length },
      to: {
        x,
        y,
        width: Math.max(2, px(across.length * scale)),
        height: Math.max(2, px(down.length * scale)),
      },
    },
  ];
};

const drawnMark = (mark: Mark, view: Viewport, offset: number, dpr: number): string[] => {
  const colour = CHALK_COLOUR[mark.chalk];
  const parts = shapeOf(mark, view.picture, (point) => {
    const { left, top } = toScreen(view, point);
    return [left + offset, top];
  });
  const scaled = (d: string) =>
    flattenPath(d).map(({ places }) => places.map(([x, y]) => [x * dpr, y * dpr] as const));
  return parts.flatMap((part) => {
    if (part.type === 'stroke')
      return [
        assFill(strokeOutlines(part.d, part.width + EDGE, part.dash, dpr), FILM_COLOURS.edge, EDGE_OPACITY),
        assFill(strokeOutlines(part.d, part.width, part.dash, dpr), colour, 1),
      ];
    if (part.type === 'outline')
      return [
        assFill(scaled(part.edge), FILM_COLOURS.edge, EDGE_OPACITY),
        assFill(scaled(part.body), colour, 1),
      ];
    const box = labelBox(part, guessTextWidth(part.text), view.stage);
    const [x, y] = [box.left * dpr, box.top * dpr];
    const [right, bottom] = [x + box.width * dpr, y + box.height * dpr];
    const corners = [
      [x, y],
      [right, y],
      [right, bottom],
      [x, bottom],
    ] as const;
    return [
      assFill([corners], FILM_COLOURS.edge, LABEL_OPACITY),
      assWords(part.text, [box.textLeft * dpr, (y + bottom) / 2], part.colour, LABEL_SIZE * dpr),
    ];
  });
};

/** Lines of the script; one that goes on in the next picture becomes longer instead of being written again. */
class LineKeeper {
  private readonly open = new Map<string, { from: number; to: number }>();
  private readonly done: { from: number; to: number; key: string }[] = [];
  private order = 0;
  private readonly orderOf = new Map<string, number>();

  draw(picture: number, layer: number, text: string, style = 'Drawing'): void {
    const key = `${layer},%,${style},,0,0,0,,${text}`;
    const before = this.open.get(key);
    if (before && before.to >= picture) before.to = picture + 1;
    else {
      if (before) this.done.push({ ...before, key });
      this.open.set(key, { from: picture, to: picture + 1 });
      this.orderOf.set(key, this.order++);
    }
  }

  all(): string[] {
    const rest = [...this.open].map(([key, span]) => ({ ...span, key }));
    return [...this.done, ...rest]
      .sort((a, b) => (this.orderOf.get(a.key) ?? 0) - (this.orderOf.get(b.key) ?? 0))
      .map(({ from, to, key }) => `Dialogue: ${key.replace('%', `${clock(from)},${clock(to)}`)}`);
  }
}

/** Picture `n` as a time of the script: a tenth of a second each. */
const clock = (tenths: number): string => {
  const two = (value: number) => String(value).padStart(2, '0');
  const seconds = Math.floor(tenths / 10);
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}.${tenths % 10}0`;
};

const scriptOf = (width: number, height: number, size: number, lines: readonly string[]): string =>
  [
    '[Script Info]',
    'ScriptType: v4.00+',
    `PlayResX: ${width}`,
    `PlayResY: ${height}`,
    'WrapStyle: 0',
    'ScaledBorderAndShadow: yes',
    '',
    '[V4+ Styles]',
    'Format: Name, Fontname, Fontsize, PrimaryColour, SecondaryColour, OutlineColour, BackColour, Bold, Italic, Underline, StrikeOut, ScaleX, ScaleY, Spacing, Angle, BorderStyle, Outline, Shadow, Alignment, MarginL, MarginR, MarginV, Encoding',
    `Style: Drawing,Atkinson Hyperlegible,${Math.round(size)},&H00F6FDFF,&H00F6FDFF,&H00100F0B,&H00100F0B,0,0,0,0,100,100,0,0,1,0,0,7,0,0,0,1`,
    `Style: Caption,Atkinson Hyperlegible,${Math.round(size * 1.2)},&H00F6FDFF,&H00F6FDFF,&H24100F0B,&H24100F0B,0,0,0,0,100,100,0,0,3,${Math.round(size / 3)},0,2,${Math.round(size)},${Math.round(size)},${Math.round(size)},1`,
    '',
    '[Events]',
    'Format: Layer, Start, End, Style, Name, MarginL, MarginR, MarginV, Effect, Text',
    ...lines,
    '',
  ].join('\n');
