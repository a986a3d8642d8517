import { page, userEvent } from 'vitest/browser';
import { describe, expect, it } from 'vitest';
import type { FramePoint } from '@/lib/domain/marks/mark';
import { fitViewport, panBy, zoomAbout } from '@/lib/review/canvas/viewport';
import { createLoupe, type Placed } from '@/lib/review/loupe/loupe';
import { LENS_SCALE, LENS_SIZE } from '@/lib/review/loupe/lens';
import { input, nextFrame, PICTURE, STAGE } from './stage';

/** Green, with one magenta pixel of the rendition at (320, 180). */
const frame = () => {
  const canvas = Object.assign(document.createElement('canvas'), PICTURE);
  const ctx = canvas.getContext('2d')!;
  ctx.fillStyle = '#004000';
  ctx.fillRect(0, 0, PICTURE.width, PICTURE.height);
  ctx.fillStyle = '#ff00ff';
  ctx.fillRect(320, 180, 1, 1);
  return canvas;
};

const openLoupe = async (placed: Placed[] = [], asked: Placed | null = null) => {
  await page.viewport(800, 600);
  document.body.style.margin = '0';
  const surface = document.createElement('div');
  surface.tabIndex = 0;
  Object.assign(surface.style, {
    position: 'absolute',
    left: '0',
    top: '0',
    width: '640px',
    height: '360px',
  });
  const lens = document.createElement('canvas');
  document.body.replaceChildren(surface, lens);
  let viewport = fitViewport(STAGE, PICTURE);
  const told: { set: [FramePoint, string | null][]; moved: (FramePoint | null)[] } = { set: [], moved: [] };
  const loupe = createLoupe({
    surface,
    lens,
    picture: PICTURE,
    getViewport: () => viewport,
    onSet: (point, name) => told.set.push([point, name]),
    onMove: (point) => told.moved.push(point),
    panBy: (by) => (viewport = panBy(viewport, by)),
    zoomAbout: (about, factor) => (viewport = zoomAbout(viewport, about, factor)),
  });
  loupe.showPicture(frame());
  loupe.ask(placed, asked, { x: 0.5, y: 0.5 });
  const last = () => {
    const [point, name] = told.set.at(-1)!;
    return { x: point.x * PICTURE.width, y: point.y * PICTURE.height, name };
  };
  return { loupe, surface, lens, told, last, viewport: () => viewport };
};

describe('the loupe', () => {
  it('sets the point that a click shows, and shows its pixels magnified', async () => {
    const { loupe, lens, last, told } = await openLoupe();
    await input().mouse('mouseMoved', [160.25, 90.25], { button: 'none', buttons: 0 });
    await expect.poll(() => loupe.getSnapshot().aim).not.toBeNull();
    await nextFrame();
    const dpr = lens.width / LENS_SIZE;
    const [from, side] = [Math.round((LENS_SIZE / 2 - LENS_SCALE) * dpr), Math.round(2 * LENS_SCALE * dpr)];
    const pixels = lens.getContext('2d')!.getImageData(from, from, side, side).data;
    const magenta = pixels.filter((red, i) => i % 4 === 0 && red > 200 && pixels[i + 1]! < 80);
    await input().tap([160.25, 90.25]);
    await expect.poll(() => told.set.length).toBe(1);
    expect(last()).toMatchObject({ x: expect.closeTo(320.5, 0), y: expect.closeTo(180.5, 0), name: null });
    // Unsmoothed and six times as large: 36 pixels less what the cross covers.
    expect(magenta.length).toBeGreaterThan(10 * dpr * dpr);
    expect(magenta.length).toBeLessThanOrEqual(LENS_SCALE ** 2 * dpr * dpr);
    expect(loupe.getSnapshot().side).toBe('right');
  });

  it.each(['mouse', 'touch', 'pen'] as const)(
    'a drag by %s moves a quarter as far as the hand',
    async (kind) => {
      const { last, told } = await openLoupe();
      await input().drag[kind]([160, 90], [200, 110]);
      await expect.poll(() => told.set.length).toBe(1);
      // 40 and 20 CSS pixels, a quarter of that, at two pixels of the picture each.
      expect(last()).toMatchObject({ x: expect.closeTo(340, 0), y: expect.closeTo(190, 0) });
    },
  );

  it('a press on a point that is there takes that one up', async () => {
    const toe = { name: 'stride-toe', point: { x: 0.25, y: 0.25 } };
    const { last, told } = await openLoupe([toe]);
    await input().drag.mouse([163, 92], [179, 92]);
    await expect.poll(() => told.set.length).toBe(1);
    expect(last()).toEqual({ x: expect.closeTo(328, 3), y: expect.closeTo(180, 3), name: 'stride-toe' });
  });

  it('arrow keys go by a quarter of a pixel, with Shift by five; Enter sets', async () => {
    const { surface, loupe, last, told } = await openLoupe();
    surface.focus();
    await userEvent.keyboard('{ArrowRight}{ArrowDown}{ArrowDown}{Shift>}{ArrowLeft}{/Shift}');
    expect(told.set).toHaveLength(0);
    expect(loupe.getSnapshot().announcement.text).toBe('635.25 across, 360.50 down');
    await userEvent.keyboard('{Enter}');
    expect(last()).toEqual({ x: expect.closeTo(635.25, 6), y: expect.closeTo(360.5, 6), name: null });
  });

  it('arrow keys move a point that is there at once', async () => {
    const toe = { name: 'stride-toe', point: { x: 0.25, y: 0.25 } };
    const { surface, told, last } = await openLoupe([toe], toe);
    surface.focus();
    await userEvent.keyboard('{ArrowRight}{ArrowRight}');
    expect(told.set).toHaveLength(2);
    expect(last()).toEqual({ x: expect.closeTo(320.5, 6), y: expect.closeTo(180, 6), name: 'stride-toe' });
  });

  it('never sets a point outside the picture', async () => {
    const { surface, last } = await openLoupe([], { name: 'head', point: { x: 0, y: 0 } });
    surface.focus();
    await userEvent.keyboard('{Shift>}{ArrowLeft}{ArrowUp}{/Shift}');
    expect(last()).toMatchObject({ x: 0, y: 0 });
  });

  it('two fingers zoom the picture and set nothing', async () => {
    const { told, loupe, viewport } = await openLoupe();
    await input().touch('touchStart', [[300, 180]]);
    await input().touch('touchStart', [
      [300, 180],
      [340, 180],
    ]);
    await input().touch('touchMove', [
      [260, 180],
      [380, 180],
    ]);
    await input().touch('touchEnd', []);
    await expect.poll(() => viewport().scale).toBeGreaterThan(1);
    expect(told.set).toHaveLength(0);
    expect(loupe.getSnapshot().isHeld).toBe(false);
  });

  it('Escape lets go of what is not set', async () => {
    const { surface, loupe, told } = await openLoupe();
    surface.focus();
    await userEvent.keyboard('{ArrowRight}{Escape}');
    expect(loupe.getSnapshot().aim).toBeNull();
    expect(told.moved.at(-1)).toBeNull();
    expect(told.set).toHaveLength(0);
  });
});
