/**
 * A frame number burnt into a picture so that it survives compression, scaling, rotation to upright and tone
 * mapping: 8 by 4 big black or white blocks (a fixed pattern, 16 bits, a check byte) and the decimal digits below
 * for people. A turned or mirrored picture breaks the fixed pattern, so reading a number also proves that the
 * picture is upright. No imports: the same file runs in node and in a browser.
 */

/** Pixels as a canvas gives them: 4 bytes each, row by row from the top left. */
export interface Pixels {
  data: Uint8ClampedArray | Uint8Array;
  width: number;
  height: number;
}

/** The part of the picture that carries the counter, in fractions of its width and height. */
export interface CounterArea {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** The whole picture. */
export const WHOLE: CounterArea = { x: 0, y: 0, width: 1, height: 1 };

const COLUMNS = 8;
const ROWS = 4;
/** The blocks take this part of the area's height, the digits the rest. */
const BLOCKS_SHARE = 0.7;
/** No turn by a quarter or half and no mirroring keeps this row. */
const PATTERN = 0b10110001;

const DIGITS = [
  '111101101101111',
  '010110010010111',
  '111001111100111',
  '111001111001111',
  '101101111001001',
  '111100111001111',
  '111100111101111',
  '111001010010010',
  '111101111101111',
  '111101111001111',
];

const checkOf = (high: number, low: number) => (high * 3 + low * 5 + 0xa7) & 0xff;

const rowsOf = (frame: number) => {
  const high = (frame >> 8) & 0xff;
  const low = frame & 0xff;
  return [PATTERN, high, low, checkOf(high, low)];
};

function fill(pixels: Pixels, x0: number, y0: number, x1: number, y1: number, grey: number) {
  const { data, width, height } = pixels;
  const left = Math.max(0, Math.round(x0));
  const right = Math.min(width, Math.round(x1));
  for (let y = Math.max(0, Math.round(y0)); y < Math.min(height, Math.round(y1)); y++) {
    const row = data.subarray((y * width + left) * 4, (y * width + right) * 4);
    row.fill(grey);
    for (let alpha = 3; alpha < row.length; alpha += 4) row[alpha] = 255;
  }
}

/** Paints the frame number (0 to 65535) into the area of the picture, in place. */
export function paintCounter(pixels: Pixels, frame: number, area: CounterArea = WHOLE): void {
  const left = area.x * pixels.width;
  const top = area.y * pixels.height;
  const wide = area.width * pixels.width;
  const high = area.height * pixels.height;
  const blockWidth = wide / COLUMNS;
  const blockHeight = (high * BLOCKS_SHARE) / ROWS;

  rowsOf(frame).forEach((bits, row) => {
    for (let column = 0; column < COLUMNS; column++) {
      const isSet = (bits >> (COLUMNS - 1 - column)) & 1;
      const x = left + column * blockWidth;
      const y = top + row * blockHeight;
      fill(pixels, x, y, x + blockWidth, y + blockHeight, isSet ? 235 : 20);
    }
  });

  const digitsTop = top + high * BLOCKS_SHARE;
  fill(pixels, left, digitsTop, left + wide, top + high, 128);
  const text = String(frame).padStart(5, '0');
  const dot = Math.min(wide / (text.length * 4 + 1), (high * (1 - BLOCKS_SHARE)) / 7);
  [...text].forEach((digit, place) => {
    const shape = DIGITS[Number(digit)] ?? '';
    [...shape].forEach((bit, index) => {
      if (bit === '0') return;
      const x = left + (place * 4 + 1 + (index % 3)) * dot;
      const y = digitsTop + (Math.floor(index / 3) + 1) * dot;
      fill(pixels, x, y, x + dot, y + dot, 235);
    });
  });
}

/** The mean brightness of the middle of one block. */
function brightness(pixels: Pixels, area: CounterArea, row: number, column: number): number {
  const blockWidth = (area.width * pixels.width) / COLUMNS;
  const blockHeight = (area.height * pixels.height * BLOCKS_SHARE) / ROWS;
  const centreX = area.x * pixels.width + (column + 0.5) * blockWidth;
  const centreY = area.y * pixels.height + (row + 0.5) * blockHeight;
  let sum = 0;
  let count = 0;
  for (const dy of [-0.25, -0.1, 0.1, 0.25])
    for (const dx of [-0.25, -0.1, 0.1, 0.25]) {
      const x = Math.min(pixels.width - 1, Math.max(0, Math.floor(centreX + dx * blockWidth)));
      const y = Math.min(pixels.height - 1, Math.max(0, Math.floor(centreY + dy * blockHeight)));
      const at = (y * pixels.width + x) * 4;
      sum += (pixels.data[at] ?? 0) + (pixels.data[at + 1] ?? 0) + (pixels.data[at + 2] ?? 0);
      count += 3;
    }
  return sum / count;
}

/**
 * Reads the frame number back from pixels of any size, or null when the picture does not carry one that stands
 * upright and passes its check. Black and white are taken from the fixed pattern, so a darker or paler picture
 * (another transfer curve) reads the same.
 */
export function readCounter(pixels: Pixels, area: CounterArea = WHOLE): number | null {
  const pattern = Array.from({ length: COLUMNS }, (_, column) => brightness(pixels, area, 0, column));
  const mean = (wanted: number) => {
    const some = pattern.filter((_, column) => ((PATTERN >> (COLUMNS - 1 - column)) & 1) === wanted);
    return some.reduce((sum, value) => sum + value, 0) / some.length;
  };
  const white = mean(1);
  const black = mean(0);
  if (white - black < 30) return null;

  const middle = (white + black) / 2;
  const bytes = Array.from({ length: ROWS }, (_, row) => {
    let bits = 0;
    for (let column = 0; column < COLUMNS; column++)
      bits = (bits << 1) | (brightness(pixels, area, row, column) > middle ? 1 : 0);
    return bits;
  });
  const [first, high = 0, low = 0, check] = bytes;
  if (first !== PATTERN || check !== checkOf(high, low)) return null;
  return (high << 8) | low;
}
