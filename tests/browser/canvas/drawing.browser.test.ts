import { userEvent } from 'vitest/browser';
import { describe, expect, it } from 'vitest';
import type { Mark } from '@/lib/domain/marks/mark';
import { parseMarks } from '@/lib/domain/marks/parse-mark';
import type { CommandId } from '@/lib/review/commands';
import { colourAt, input, nextFrame, openStage } from './stage';

const only = (marks: readonly Mark[]) => {
  expect(marks).toHaveLength(1);
  expect(parseMarks(marks)).toEqual(marks); // what is drawn can be stored
  return marks[0]!;
};
const near = (x: number, y: number) => ({ x: expect.closeTo(x, 2), y: expect.closeTo(y, 2) });

describe.each(['mouse', 'touch', 'pen'] as const)('drawing by %s', (kind) => {
  it.each([
    ['tool-line', 'line'],
    ['tool-arrow', 'arrow'],
    ['tool-circle', 'circle'],
  ] as [CommandId, string][])('%s: a drag from one point to the other', async (command, markKind) => {
    const { board, told } = await openStage();
    board.run(command);
    await input().drag[kind]([160, 90], [320, 180]);
    expect(only(told.marks)).toMatchObject({
      kind: markKind,
      frame: 138,
      span: 1,
      points: [near(0.25, 0.25), near(0.5, 0.5)],
    });
    expect(told.calls).toBe(1);
  });

  it('a plumb line stays upright', async () => {
    const { board, told } = await openStage();
    board.run('tool-plumb');
    await input().drag[kind]([160, 90], [260, 270]);
    const mark = only(told.marks);
    expect(mark).toMatchObject({ kind: 'plumb', points: [near(0.25, 0.25), near(0.25, 0.75)] });
  });

  it('an angle in two drags', async () => {
    const { board, told } = await openStage();
    board.run('tool-angle');
    await input().drag[kind]([160, 90], [320, 180]);
    expect(told.calls).toBe(0);
    expect(board.getSnapshot().pointsSet).toBe(2);
    await input().drag[kind]([320, 100], [480, 180]);
    expect(only(told.marks)).toMatchObject({
      kind: 'angle',
      points: [near(0.25, 0.25), near(0.5, 0.5), near(0.75, 0.5)],
    });
  });

  it('free hand follows the hand', async () => {
    const { board, told } = await openStage();
    board.run('tool-freehand');
    await input().drag[kind]([160, 90], [320, 180]);
    const mark = only(told.marks);
    expect(mark.kind).toBe('freehand');
    expect(mark.points[0]).toMatchObject(near(0.25, 0.25));
    expect(mark.points.at(-1)).toMatchObject(near(0.5, 0.5));
  });

  it('words where it was tapped', async () => {
    const { board, told } = await openStage();
    board.run('tool-text');
    await input().drag[kind]([160, 90], [160, 90]);
    expect(board.getSnapshot().words).toMatchObject({ point: near(0.25, 0.25), markId: null });
    board.writeWords('  stay back ');
    expect(only(told.marks)).toMatchObject({ kind: 'text', text: 'stay back' });
  });

  it('rubs out in one sweep, moves, and reshapes', async () => {
    const { board, told } = await openStage();
    board.run('tool-line');
    await input().drag[kind]([100, 100], [200, 100]);
    await input().drag[kind]([100, 200], [200, 200]);
    board.run('tool-select');
    await input().drag[kind]([150, 100], [150, 132]); // takes it by the middle
    expect(told.marks[0]!.points[0]).toMatchObject({
      x: expect.closeTo(100 / 640, 2),
      y: expect.closeTo(132 / 360, 2),
    });
    await input().drag[kind]([200, 132], [300, 132]); // and now by its end
    expect(told.marks[0]!.points[1]).toMatchObject({
      x: expect.closeTo(300 / 640, 2),
      y: expect.closeTo(132 / 360, 2),
    });
    board.run('tool-erase');
    await input().drag[kind]([150, 60], [150, 260]);
    expect(told.marks).toEqual([]);
    board.run('undo');
    expect(told.marks).toHaveLength(2); // the sweep was one gesture
  });
});

describe('what is seen', () => {
  it('lays chalk over a wider dark edge, and leaves the rest of the picture alone', async () => {
    const { board, layer } = await openStage();
    board.run('tool-line');
    board.run('chalk-clay');
    await input().drag.mouse([100, 100], [300, 100]);
    await nextFrame();
    const chalk = colourAt(layer('marks'), 200, 100);
    expect(chalk).toEqual([0xf0, 0x93, 0x6a, 255]);
    const edge = colourAt(layer('marks'), 200, 103);
    expect(edge[3]).toBeGreaterThan(120);
    expect(Math.max(...edge.slice(0, 3))).toBeLessThan(40);
    expect(colourAt(layer('marks'), 200, 110)[3]).toBe(0);
    expect(colourAt(layer('picture'), 200, 110)).toEqual([0x4f, 0x7a, 0x3f, 255]);
  });

  it('paints the mark in hand on its own layer until it is finished', async () => {
    const { board, layer } = await openStage();
    const { mouse } = input();
    board.run('tool-line');
    await mouse('mousePressed', [100, 100]);
    await mouse('mouseMoved', [300, 100]);
    await nextFrame();
    expect(colourAt(layer('live'), 200, 100)[3]).toBe(255);
    expect(colourAt(layer('marks'), 200, 100)[3]).toBe(0);
    await mouse('mouseReleased', [300, 100], { buttons: 0 });
    await nextFrame();
    expect(colourAt(layer('live'), 200, 100)[3]).toBe(0);
    expect(colourAt(layer('marks'), 200, 100)[3]).toBe(255);
  });

  it('shows a mark on its own frames only, and hides it when asked', async () => {
    const { board, told, layer, grass } = await openStage();
    board.run('tool-line');
    await input().drag.mouse([100, 100], [300, 100]);
    const seen = async () => {
      await nextFrame();
      return colourAt(layer('marks'), 200, 100)[3] === 255;
    };
    expect(await seen()).toBe(true);
    board.showPicture(grass(), 139);
    expect(await seen()).toBe(false);
    board.showPicture(grass(), 138);
    expect(await seen()).toBe(true);
    board.setHidden(told.marks[0]!.id, true);
    expect(await seen()).toBe(false);
    board.setHidden(told.marks[0]!.id, false);
    board.run('show-chalk');
    expect(await seen()).toBe(false);
  });

  it('draws at the same place of the picture when zoomed, with canvases no larger than the stage', async () => {
    const { board, told, layer, stage } = await openStage();
    board.run('zoom-in');
    board.run('zoom-in');
    expect(board.getSnapshot().zoom).toBeCloseTo(1.96, 2);
    board.run('tool-circle');
    await input().drag.mouse([320, 180], [416, 180]); // the middle stays in the middle
    expect(only(told.marks).points[0]).toMatchObject(near(0.5, 0.5));
    expect(only(told.marks).points[1]).toMatchObject(near(0.5 + 96 / 640 / 1.96, 0.5));
    expect(layer('marks').width).toBeLessThanOrEqual(stage.clientWidth * 2);
    board.run('zoom-fit');
    expect(board.getSnapshot().zoom).toBe(1);
  });
});

describe('a finger too many', () => {
  it('gives up the stroke without a trace, zooms instead, and keeps what could be brought back', async () => {
    const { board, told } = await openStage();
    const { touch, drag } = input();
    board.run('tool-line');
    await drag.mouse([100, 100], [200, 100]);
    board.run('undo');
    expect(board.getSnapshot().canRedo).toBe(true);
    const calls = told.calls;
    await touch('touchStart', [[300, 180]]);
    await touch('touchMove', [[305, 180]]);
    await touch('touchStart', [
      [305, 180],
      [405, 180],
    ]);
    await touch('touchMove', [
      [255, 180],
      [455, 180],
    ]);
    await touch('touchEnd', []);
    expect(told.calls).toBe(calls);
    expect(board.getSnapshot().marksHere).toEqual([]);
    expect(board.getSnapshot().zoom).toBeCloseTo(2, 1);
    expect(board.getSnapshot().canRedo).toBe(true);
    board.run('redo');
    expect(told.marks).toHaveLength(1);
  });

  it('lets fingers pan once a pen was seen, until the person says otherwise', async () => {
    const { board, told } = await openStage();
    const { drag } = input();
    board.run('tool-line');
    await drag.pen([100, 100], [200, 100]);
    expect(board.getSnapshot().isPenMode).toBe(true);
    board.run('zoom-in');
    // The hand that holds the pen is ignored for half a second.
    await expect
      .poll(async () => (await drag.touch([300, 180], [340, 180]), board.getSnapshot().zoom))
      .toBeCloseTo(1.4, 1);
    expect(told.marks).toHaveLength(1);
    board.run('pen-mode');
    expect(board.getSnapshot().isPenMode).toBe(false);
    await expect
      .poll(async () => (await drag.touch([300, 180], [340, 180]), told.marks.length))
      .toBeGreaterThan(1);
  });
});

describe('undo', () => {
  it('takes back and brings back one gesture at a time, and shows the frame it happened on', async () => {
    const { board, told, grass } = await openStage();
    board.run('tool-line');
    await input().drag.mouse([100, 100], [200, 100]);
    await input().drag.mouse([100, 200], [200, 200]);
    const both = told.marks;
    board.run('undo');
    expect(told.marks).toEqual(both.slice(0, 1));
    board.showPicture(grass(), 150);
    board.run('redo');
    expect(told.marks).toEqual(both);
    expect(told.goneTo).toEqual([[both[0]!.clipId, 138]]);
    board.run('undo');
    board.run('undo');
    expect(told.marks).toEqual([]);
    expect(board.getSnapshot()).toMatchObject({ canUndo: false, canRedo: true });
  });
});

describe('by keys alone', () => {
  it('places a plumb line, a nudge a pixel, with Shift ten, and says what it does', async () => {
    const { board, told, stage } = await openStage();
    stage.focus();
    board.run('tool-plumb');
    await userEvent.keyboard('{Enter}');
    expect(board.getSnapshot().cursor).toMatchObject(near(0.5, 0.5));
    expect(board.getSnapshot().announcement.text).toContain('Arrow keys move it');
    await userEvent.keyboard('{Shift>}{ArrowUp}{ArrowUp}{/Shift}{ArrowLeft}{Enter}');
    expect(board.getSnapshot().pointsSet).toBe(1);
    await userEvent.keyboard('{Shift>}{ArrowDown}{ArrowDown}{ArrowDown}{/Shift}{Enter}');
    const mark = only(told.marks);
    expect(mark.points[0]).toEqual({ x: expect.closeTo(319 / 640, 5), y: expect.closeTo(160 / 360, 5) });
    expect(mark.points[1]).toEqual({ x: expect.closeTo(319 / 640, 5), y: expect.closeTo(190 / 360, 5) });
    expect(board.getSnapshot().announcement.text).toContain('Drawn: Plumb line, white');
  });

  it('chooses, moves, reshapes and rubs out; arrows are the page’s own again after Escape', async () => {
    const { board, told, stage } = await openStage();
    board.run('tool-line');
    await input().drag.mouse([100, 100], [200, 100]);
    stage.focus();
    const heard: string[] = [];
    document.body.addEventListener('keydown', (event) => heard.push(event.key));
    board.run('next-mark');
    await userEvent.keyboard('{ArrowDown}{ArrowDown}');
    expect(told.marks[0]!.points[0]!.y).toBeCloseTo(102 / 360, 2);
    await userEvent.keyboard('{Enter}{Enter}{Shift>}{ArrowRight}{/Shift}');
    expect(told.marks[0]!.points[1]!.x).toBeCloseTo(210 / 640, 2);
    expect(told.marks[0]!.points[0]!.x).toBeCloseTo(100 / 640, 2);
    await userEvent.keyboard('{Delete}');
    expect(told.marks).toEqual([]);
    expect(heard.filter((key) => key.startsWith('Arrow'))).toEqual([]);
    await userEvent.keyboard('{Escape}{ArrowRight}');
    expect(heard.filter((key) => key.startsWith('Arrow'))).toEqual(['ArrowRight']);
  });

  it('lets go of half-placed points with Escape, and nothing is drawn', async () => {
    const { board, told, stage } = await openStage();
    stage.focus();
    board.run('tool-angle');
    await userEvent.keyboard('{Enter}{Enter}{ArrowRight}{Escape}');
    expect(board.getSnapshot()).toMatchObject({ pointsSet: 0, marksHere: [], canUndo: false });
    expect(told.calls).toBe(0);
  });
});
