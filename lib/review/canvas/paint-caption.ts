import { EDGE_COLOUR, LABEL_OPACITY } from './shape';
import type { SceneStage } from './paint-scene';

const SIZE = 17;
const LINE = 23;
const PAD = 8;
const CHALK_WHITE = '#FFFDF6';
const FONT = `${SIZE}px "Atkinson Hyperlegible", Verdana, sans-serif`;

/** Paints a caption at the foot of the stage, broken into lines that fit; for files that carry their captions in the picture. */
export const paintCaption = (ctx: CanvasRenderingContext2D, text: string, stage: SceneStage): void => {
  if (text.trim() === '') return;
  ctx.save();
  ctx.setTransform(stage.dpr, 0, 0, stage.dpr, 0, 0);
  ctx.font = FONT;
  ctx.textAlign = 'center';
  ctx.textBaseline = 'alphabetic';
  const room = stage.width - 4 * PAD;
  const lines = breakLines(text, (part) => ctx.measureText(part).width <= room);
  const width = Math.max(...lines.map((line) => ctx.measureText(line).width)) + 2 * PAD;
  const height = lines.length * LINE + PAD;
  const top = stage.height - height - PAD;
  ctx.globalAlpha = LABEL_OPACITY;
  ctx.fillStyle = EDGE_COLOUR;
  ctx.fillRect((stage.width - width) / 2, top, width, height);
  ctx.globalAlpha = 1;
  ctx.fillStyle = CHALK_WHITE;
  lines.forEach((line, at) =>
    ctx.fillText(line, stage.width / 2, top + PAD / 2 + (at + 1) * LINE - (LINE - SIZE)),
  );
  ctx.restore();
};

/** Breaks words into lines that `fits` accepts; the text's own line breaks stay. A word that never fits stands alone. */
export const breakLines = (text: string, fits: (line: string) => boolean): string[] =>
  text.split('\n').flatMap((paragraph) => {
    const lines: string[] = [];
    for (const word of paragraph.split(/\s+/).filter(Boolean)) {
      const last = lines.at(-1);
      const longer = last === undefined ? word : `${last} ${word}`;
      if (last !== undefined && fits(longer)) lines[lines.length - 1] = longer;
      else lines.push(word);
    }
    return lines;
  });
