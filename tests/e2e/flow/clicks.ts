import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, type Page } from '@playwright/test';
import type { GroundName, JointName } from '@/lib/domain/measures/names';
import { project, type Camera } from '../../support/swing/camera';
import { boxCorners, PLATE } from '../../support/swing/plate';

type Pixel = readonly [x: number, y: number];

interface Truth {
  bats: 'right' | 'left';
  camera: Camera;
  joints: string[];
  frames: { space: number[]; picture: number[] }[];
}

/** What is known of a demo clip: where its corners and joints fall, in pixels, and how far the stride foot is open. */
export function truthOfClip(name: string) {
  const file = path.join(import.meta.dirname, `../../support/swing/truth/${name}.json`);
  const { bats, camera, joints, frames } = JSON.parse(readFileSync(file, 'utf8')) as Truth;
  const [front, rear] = bats === 'right' ? ['left', 'right'] : ['right', 'left'];
  const [apex, sideFirst, frontFirst, frontThird, sideThird] = PLATE;
  const [rearLow, frontLow, frontHigh, rearHigh] = boxCorners(bats === 'right' ? 1 : -1);
  const isRight = bats === 'right';
  const corners: Record<GroundName, readonly [number, number] | undefined> = {
    'plate-apex': apex,
    'plate-side-third': sideThird,
    'plate-front-third': frontThird,
    'plate-front-first': frontFirst,
    'plate-side-first': sideFirst,
    'box-inner-front': isRight ? frontLow : frontHigh,
    'box-inner-rear': isRight ? rearLow : rearHigh,
    'box-outer-rear': isRight ? rearHigh : rearLow,
    'box-outer-front': isRight ? frontHigh : frontLow,
  };
  const parts: Record<JointName, string> = {
    'stride-heel': `${front}Heel`,
    'stride-toe': `${front}Toe`,
    'rear-heel': `${rear}Heel`,
    'rear-toe': `${rear}Toe`,
    head: 'head',
    belt: 'beltBuckle',
    'front-knee': `${front}Knee`,
    'front-ankle': `${front}Ankle`,
    'front-shoulder': `${front}Shoulder`,
    'rear-shoulder': `${rear}Shoulder`,
  };
  const numbers = (frame: number, part: string, of: 'space' | 'picture', size: 2 | 3) => {
    const at = joints.indexOf(part) * size;
    return (frames[frame]?.[of] ?? []).slice(at, at + size);
  };
  return {
    size: { width: camera.width, height: camera.height },
    corner: (name: GroundName): Pixel => {
      const [x = 0, y = 0] = corners[name] ?? [];
      return project(camera, [x, y, 0]);
    },
    joint: (name: JointName, frame: number): Pixel => {
      const [x = 0, y = 0] = numbers(frame, parts[name], 'picture', 2);
      return [x / 10, y / 10];
    },
    /** Degrees: 0 square with the toe toward the plate, 90 at the pitcher. */
    openness: (frame: number): number => {
      const [hx = 0, hy = 0] = numbers(frame, parts['stride-heel'], 'space', 3);
      const [tx = 0, ty = 0] = numbers(frame, parts['stride-toe'], 'space', 3);
      return (Math.atan2(tx - hx, (isRight ? -1 : 1) * (ty - hy)) * 180) / Math.PI;
    },
  };
}

/** Clicks a pixel of the clip on the stage, which shows the whole picture. */
export async function clickPixel(
  page: Page,
  { width, height }: { width: number; height: number },
  [x, y]: Pixel,
): Promise<void> {
  const stage = await page.locator('[data-placing]').boundingBox();
  if (!stage) throw new Error('nothing is being placed');
  const scale = Math.min(stage.width / width, stage.height / height);
  const left = stage.x + (stage.width - width * scale) / 2 + x * scale;
  const top = stage.y + (stage.height - height * scale) / 2 + y * scale;
  await page.mouse.move(left, top);
  await page.mouse.down();
  await page.mouse.up();
}

/** Clicks whatever point is asked for next until none is, each where `pixelOf` says. */
export async function clickAll(
  page: Page,
  size: { width: number; height: number },
  pixelOf: (name: string) => Pixel,
): Promise<number> {
  const layer = page.locator('[data-placing]');
  let count = 0;
  for (let asked = await layer.getAttribute('data-placing'); asked; count++) {
    const before = asked;
    await clickPixel(page, size, pixelOf(before));
    await expect(layer).not.toHaveAttribute('data-placing', before);
    asked = await layer.getAttribute('data-placing');
  }
  return count;
}
