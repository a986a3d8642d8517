import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handlesOf, hitHandle, hitMark } from '@/lib/review/canvas/hit-test';
import { markToSvg } from '@/lib/review/canvas/mark-to-svg';
import {
  bringIntoView,
  fitViewport,
  MOST_ZOOM,
  panBy,
  resizeViewport,
  toFrame,
  toScreen,
  zoomAbout,
  zoomOf,
} from '@/lib/review/canvas/viewport';
import { aMark, aPoint, buildMark } from '../../domain/marks/build-mark';

const PICTURE = { width: 1280, height: 720 };
const STAGE = { width: 800, height: 600 };
const aLength = fc.integer({ min: 40, max: 3000 });
const aView = fc
  .record({
    stage: fc.record({ width: aLength, height: aLength }),
    picture: fc.record({ width: aLength, height: aLength }),
    factor: fc.double({ min: 0.2, max: 20, noNaN: true }),
    left: fc.integer({ min: -500, max: 3000 }),
    top: fc.integer({ min: -500, max: 3000 }),
  })
  .map(({ stage, picture, factor, left, top }) =>
    zoomAbout(fitViewport(stage, picture, 3), { left, top }, factor),
  );

describe('the viewport', () => {
  it('fits the picture whole and in the middle', () => {
    const v = fitViewport(STAGE, PICTURE);
    expect(toScreen(v, { x: 0, y: 0 })).toEqual({ left: 0, top: 75 });
    expect(toScreen(v, { x: 1, y: 1 })).toEqual({ left: 800, top: 525 });
    expect(zoomOf(v)).toBe(1);
  });

  it('goes to the screen and back to the same point', () => {
    fc.assert(
      fc.property(aView, aPoint(), (v, p) => {
        const back = toFrame(v, toScreen(v, p));
        expect(back.x).toBeCloseTo(p.x, 6);
        expect(back.y).toBeCloseTo(p.y, 6);
      }),
    );
  });

  it('never shows a gap where the picture could fill it, never zooms past its ends, never draws finer than two', () => {
    fc.assert(
      fc.property(aView, fc.integer({ min: -9000, max: 9000 }), (v, by) => {
        const moved = panBy(v, { left: by, top: -by });
        for (const [at, stage, picture] of [
          [moved.left, v.stage.width, v.picture.width * v.scale],
          [moved.top, v.stage.height, v.picture.height * v.scale],
        ] as const) {
          if (picture <= stage) expect(at).toBeCloseTo((stage - picture) / 2, 6);
          else {
            expect(at).toBeLessThanOrEqual(1e-6);
            expect(at + picture).toBeGreaterThanOrEqual(stage - 1e-6);
          }
        }
        expect(zoomOf(v)).toBeGreaterThanOrEqual(1 - 1e-9);
        expect(zoomOf(v)).toBeLessThanOrEqual(MOST_ZOOM + 1e-9);
        expect(v.dpr).toBe(2);
      }),
    );
  });

  it('keeps what lies under the fingers there while it zooms', () => {
    const v = zoomAbout(fitViewport(STAGE, PICTURE), { left: 400, top: 300 }, 3);
    const about = { left: 420, top: 310 };
    const point = toFrame(v, about);
    expect(toScreen(zoomAbout(v, about, 1.5), point)).toEqual({
      left: expect.closeTo(420, 6),
      top: expect.closeTo(310, 6),
    });
  });

  it('keeps zoom and middle when the stage is turned', () => {
    const v = zoomAbout(fitViewport(STAGE, PICTURE), { left: 400, top: 300 }, 4);
    const turned = resizeViewport(v, { width: 600, height: 800 });
    expect(zoomOf(turned)).toBeCloseTo(4, 6);
    expect(toFrame(turned, { left: 300, top: 400 })).toEqual({
      x: expect.closeTo(0.5, 6),
      y: expect.closeTo(0.5, 6),
    });
  });

  it('brings a point into view, and leaves one alone that is', () => {
    const v = zoomAbout(fitViewport(STAGE, PICTURE), { left: 0, top: 75 }, 8);
    const at = toScreen(bringIntoView(v, { x: 0.9, y: 0.9 }), { x: 0.9, y: 0.9 });
    expect(at.left).toBeLessThanOrEqual(800 - 24 + 1e-6);
    expect(at.top).toBeLessThanOrEqual(600 - 24 + 1e-6);
    expect(bringIntoView(v, toFrame(v, { left: 400, top: 300 }))).toEqual(v);
  });
});

describe('hitting a mark', () => {
  const v = fitViewport({ width: 1280, height: 720 }, PICTURE);
  const line = buildMark('line', {
    points: [
      { x: 0.25, y: 0.5 },
      { x: 0.75, y: 0.5 },
    ],
  });

  it('reaches as far as the pointer is thick', () => {
    const hit = (away: number, kind: 'mouse' | 'pen' | 'touch') =>
      hitMark([line], { left: 640, top: 360 + away }, v, kind) !== null;
    expect([hit(7.9, 'mouse'), hit(8.1, 'mouse')]).toEqual([true, false]);
    expect([hit(11.9, 'pen'), hit(12.1, 'pen')]).toEqual([true, false]);
    // 22 to either side makes the 44 px target.
    expect([hit(21.9, 'touch'), hit(22.1, 'touch')]).toEqual([true, false]);
  });

  it('takes the nearest, of two alike the one drawn last, and never a hidden one', () => {
    const above = { ...line, id: buildMark('line').id };
    const place = { left: 640, top: 361 };
    expect(hitMark([line, above], place, v, 'touch')).toBe(above);
    expect(hitMark([line, { ...above, hidden: true }], place, v, 'touch')).toBe(line);
    const lower = buildMark('line', {
      points: [
        { x: 0.25, y: 0.52 },
        { x: 0.75, y: 0.52 },
      ],
    });
    expect(hitMark([line, lower], place, v, 'touch')).toBe(line);
  });

  it('finds words by their box', () => {
    const words = buildMark('text', { points: [{ x: 0.5, y: 0.5 }], text: 'stay back' });
    expect(hitMark([words], { left: 700, top: 360 }, v, 'mouse')).toBe(words);
    expect(hitMark([words], { left: 600, top: 360 }, v, 'mouse')).toBeNull();
  });

  it('finds the nearest handle, and none on what is moved whole', () => {
    expect(hitHandle(line, { left: 955, top: 364 }, v, 'mouse')?.index).toBe(1);
    expect(hitHandle(line, { left: 640, top: 360 }, v, 'touch')).toBeNull();
    expect(handlesOf(buildMark('freehand'))).toEqual([]);
    expect(handlesOf(buildMark('angle'))).toHaveLength(3);
  });
});

describe('markToSvg', () => {
  const part = (mark: Parameters<typeof markToSvg>[0]) => markToSvg(mark, 640, 360);

  it('lays every stroke twice, the dark edge first and 3 to 5 pixels wider', () => {
    const [edge, chalk] = part(buildMark('line', { chalk: 'sky' }));
    expect(edge).toMatchObject({
      tag: 'path',
      stroke: '#0B0F10',
      strokeOpacity: 0.78,
      d: 'M128 108L384 252',
    });
    expect(chalk).toMatchObject({ tag: 'path', stroke: '#8CC4EC', strokeOpacity: 1, d: 'M128 108L384 252' });
    const wider = edge?.tag === 'path' && chalk?.tag === 'path' ? edge.strokeWidth - chalk.strokeWidth : 0;
    expect(wider).toBeGreaterThanOrEqual(3);
    expect(wider).toBeLessThanOrEqual(5);
  });

  it('dashes a plumb line, closes a ring, fills a stroke of the hand', () => {
    expect(part(buildMark('plumb'))[1]).toMatchObject({ strokeDasharray: '10 10' });
    expect(part(buildMark('circle'))[1]).toMatchObject({
      d: 'M256 180A64 64 0 1 1 384 180A64 64 0 1 1 256 180Z',
    });
    expect(part(buildMark('freehand'))[1]).toMatchObject({ fill: '#FFFDF6', stroke: 'none' });
  });

  it('writes an angle as an on-screen angle on its dark ground', () => {
    const mark = buildMark('angle', {
      points: [
        { x: 0.5, y: 0.2 },
        { x: 0.5, y: 0.5 },
        { x: 0.8, y: 0.5 },
      ],
    });
    const parts = part(mark);
    expect(parts.find((p) => p.tag === 'text')).toMatchObject({ text: 'on-screen 90°', fill: '#FFFDF6' });
    expect(parts.find((p) => p.tag === 'rect')).toMatchObject({ fill: '#0B0F10', fillOpacity: 0.86 });
  });

  it('keeps words on the picture and does not touch what they say', () => {
    const [box, words] = part(buildMark('text', { points: [{ x: 0.99, y: 0.01 }], text: '<b>hi & "you"' }));
    expect(words).toMatchObject({ tag: 'text', text: '<b>hi & "you"' });
    expect(box?.tag === 'rect' && box.x + box.width <= 640 && box.y >= 0).toBe(true);
  });

  it('shows nothing of a hidden mark', () => {
    expect(part(buildMark('line', { hidden: true }))).toEqual([]);
  });

  it('never writes a number that is none', () => {
    fc.assert(
      fc.property(aMark(), aLength, aLength, (mark, width, height) => {
        const parts = markToSvg(mark, width, height);
        expect(parts.length).toBeGreaterThan(0);
        expect(JSON.stringify(parts)).not.toMatch(/NaN|Infinity|null/);
      }),
    );
  });
});
