import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mark } from '@/lib/domain/marks/mark';
import { createMarkHistory } from '@/lib/review/marks/history';
import { markedFrames, marksOnFrame, nextMarkedFrame } from '@/lib/review/marks/scene';
import { aMark, buildMark, CLIP } from '../../domain/marks/build-mark';

const draw = (history: ReturnType<typeof createMarkHistory>, mark: Mark) => {
  history.begin();
  history.show([...history.marks, mark]);
  history.commit();
};

describe('the history of marks', () => {
  it('makes one entry of one gesture, however often it changed on the way', () => {
    const history = createMarkHistory([]);
    const mark = buildMark('line');
    history.begin();
    for (const frame of [1, 2, 3]) history.show([{ ...mark, frame }]);
    expect(history.settled).toEqual([]);
    expect(history.commit()).toBe(true);
    expect(history.marks).toEqual([{ ...mark, frame: 3 }]);
    expect(history.undo()).toEqual([{ ...mark, frame: 3 }]);
    expect(history.marks).toEqual([]);
    expect(history.canUndo).toBe(false);
  });

  it('leaves what can be brought back alone when a gesture is given up or changed nothing', () => {
    const history = createMarkHistory([]);
    const [first, second] = [buildMark('line'), buildMark('arrow')];
    draw(history, first);
    history.undo();
    history.begin();
    history.show([second]);
    history.bail();
    history.begin();
    expect(history.commit()).toBe(false);
    expect(history.canRedo).toBe(true);
    history.redo();
    expect(history.marks).toEqual([first]);
    draw(history, second);
    expect(history.canRedo).toBe(false);
  });

  it('gives up an open gesture before it takes back', () => {
    const history = createMarkHistory([]);
    const mark = buildMark('line');
    draw(history, mark);
    history.begin();
    history.show([]);
    history.undo();
    expect(history.marks).toEqual([]);
    expect(history.isInGesture).toBe(false);
    history.redo();
    expect(history.marks).toEqual([mark]);
  });

  it('forgets the oldest entries past its limit', () => {
    const history = createMarkHistory([], 3);
    const marks = Array.from({ length: 5 }, () => buildMark('line'));
    for (const mark of marks) draw(history, mark);
    while (history.canUndo) history.undo();
    expect(history.marks).toEqual(marks.slice(0, 2));
  });

  it('has nothing to answer at either end', () => {
    const history = createMarkHistory([]);
    expect(history.undo()).toEqual([]);
    expect(history.redo()).toEqual([]);
  });

  it('takes back what is ours after marks came and went elsewhere', () => {
    const [ours, theirs] = [buildMark('line'), buildMark('arrow')];
    const history = createMarkHistory([]);
    draw(history, ours);
    history.adopt([theirs, ours]);
    history.undo();
    expect(history.marks).toEqual([theirs]);
    history.adopt([]);
    history.redo();
    expect(history.marks).toEqual([ours]);
  });

  it('comes back to the very same marks in the very same order, whatever was done', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(aMark(), { selector: (m) => m.id, minLength: 1, maxLength: 6 }),
        fc.array(fc.uniqueArray(fc.nat(7), { maxLength: 6 }), { maxLength: 8 }),
        (marks, plans) => {
          const history = createMarkHistory(marks.slice(0, 3));
          const states: (readonly Mark[])[] = [history.marks];
          for (const plan of plans) {
            history.begin();
            history.show(
              plan
                .sort()
                .flatMap((i) => marks.at(i % marks.length) ?? [])
                .filter((m, i, all) => all.indexOf(m) === i),
            );
            if (sameSet(history.marks, history.settled))
              history.bail(); // a mere change of order is no gesture of ours
            else if (history.commit()) states.push(history.marks);
          }
          const end = history.marks;
          for (const state of states.toReversed().slice(1)) {
            history.undo();
            expect(sameSet(history.marks, state)).toBe(true);
          }
          while (history.canRedo) history.redo();
          expect(sameSet(history.marks, end)).toBe(true);
        },
      ),
    );
  });
});

const sameSet = (a: readonly Mark[], b: readonly Mark[]) =>
  a.length === b.length && a.every((mark) => b.includes(mark));

describe('the scene', () => {
  const line = buildMark('line', { frame: 10, span: 3 });
  const hidden = buildMark('arrow', { frame: 12, hidden: true });
  const elsewhere = buildMark('line', { frame: 10, clipId: '018f5e2a-0000-7000-8000-0000000000ff' });
  const marks = [line, hidden, elsewhere];

  it('knows which marks a frame carries, the hidden ones too', () => {
    expect([9, 10, 12, 13].map((frame) => marksOnFrame(marks, CLIP, frame))).toEqual([
      [],
      [line],
      [line, hidden],
      [],
    ]);
    expect(markedFrames(marks, CLIP)).toEqual(
      new Map([
        [10, 1],
        [11, 1],
        [12, 2],
      ]),
    );
  });

  it('finds the next drawing either way', () => {
    expect(nextMarkedFrame(marks, CLIP, 0, 1)).toBe(10);
    expect(nextMarkedFrame(marks, CLIP, 10, 1)).toBe(12);
    expect(nextMarkedFrame(marks, CLIP, 20, -1)).toBe(12);
    expect(nextMarkedFrame(marks, CLIP, 10, -1)).toBeNull();
  });
});
