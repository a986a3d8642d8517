import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BreakdownEvent, Scene } from '@/lib/domain/breakdowns/event';
import { applyEvent, eventsBetween, indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import { buildMark, buildScene, buildTimeline, OTHER_CLIP, someEvents } from './build-timeline';

const DURATION = 20_000;

/** The definition: every event up to and at `ms`, one after the other. */
const playUpTo = (events: readonly BreakdownEvent[], ms: number): Scene => {
  const happened = events.filter((event, at) => at === 0 || event.t <= ms);
  return happened.reduce<Scene>(applyEvent, buildScene());
};

describe('seeking', () => {
  it('shows what playing up to there shows, wherever it goes', () => {
    fc.assert(
      fc.property(
        someEvents(DURATION),
        fc.array(fc.integer({ min: -5, max: DURATION + 5 }), { minLength: 1, maxLength: 8 }),
        (events, moments) => {
          const index = indexTimeline({ events, durationMs: DURATION });
          for (const ms of moments) expect(sceneAt(index, ms)).toEqual(playUpTo(events, ms));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('goes on from any seek by the events between, to what a seek further on shows', () => {
    fc.assert(
      fc.property(someEvents(DURATION), fc.nat(DURATION), fc.nat(DURATION), (events, a, b) => {
        const index = indexTimeline({ events, durationMs: DURATION });
        const [from, to] = [Math.min(a, b), Math.max(a, b)];
        const onwards = eventsBetween(index, from, to).reduce(applyEvent, sceneAt(index, from));
        expect(onwards).toEqual(sceneAt(index, to));
      }),
    );
  });

  it('takes far less than a display frame in the longest, fullest breakdown', () => {
    const mark = buildMark('line');
    const events = Array.from({ length: 59_999 }, (_, at): BreakdownEvent => {
      const t = at * 10;
      return at % 5 === 0
        ? { t, kind: 'mark', mark: { ...mark, id: buildMark('line').id, frame: at % 400 } }
        : { t, kind: 'frame', clipId: mark.clipId, frame: at % 400 };
    });
    const index = indexTimeline(buildTimeline(events, { durationMs: 600_000 }));
    const started = performance.now();
    for (let ms = 0; ms < 600_000; ms += 6000) sceneAt(index, ms);
    // A hundred seeks; a frame is 16 ms.
    expect((performance.now() - started) / 100).toBeLessThan(8);
  });

  it('refuses to fold a list that does not begin with a scene', () => {
    expect(() => indexTimeline({ events: [], durationMs: 1 })).toThrow('begins with a scene');
  });
});

describe('one event', () => {
  const line = buildMark('line');
  const hand = buildMark('freehand');
  const point = { x: 0.9, y: 0.9 };

  it.each<[string, BreakdownEvent, Partial<Scene>]>([
    ['frame', { t: 1, kind: 'frame', clipId: OTHER_CLIP, frame: 7 }, { clipId: OTHER_CLIP, frame: 7 }],
    ['play', { t: 1, kind: 'play', isPlaying: true, speed: 1 }, { isPlaying: true, speed: 1 }],
    ['look', { t: 1, kind: 'look', look: { x: 0, y: 1, zoom: 3 } }, { look: { x: 0, y: 1, zoom: 3 } }],
    [
      'choose',
      { t: 1, kind: 'choose', checkpoint: 'contact', itemId: 'front-foot' },
      { checkpoint: 'contact', itemId: 'front-foot' },
    ],
    ['a new mark', { t: 1, kind: 'mark', mark: { ...line, id: hand.id.replace(/.$/, 'f') } }, {}],
    [
      'a mark in place of another',
      { t: 1, kind: 'mark', mark: { ...line, chalk: 'clay' } },
      { marks: [{ ...line, chalk: 'clay' }, hand] },
    ],
    [
      'grow',
      { t: 1, kind: 'grow', id: hand.id, points: [point] },
      { marks: [line, { ...hand, points: [...hand.points, point] }] },
    ],
    ['rub', { t: 1, kind: 'rub', ids: [line.id] }, { marks: [hand] }],
    ['chalk', { t: 1, kind: 'chalk', isShown: false }, { isChalkShown: false }],
    ['point', { t: 1, kind: 'point', at: point }, { pointer: point }],
    [
      'beside',
      { t: 1, kind: 'beside', beside: { clipId: OTHER_CLIP, frame: 3, opacity: 0 } },
      { beside: { clipId: OTHER_CLIP, frame: 3, opacity: 0 } },
    ],
    ['caption', { t: 1, kind: 'caption', text: 'Watch.' }, { caption: 'Watch.' }],
  ])('%s changes its own part and nothing else', (_, event, change) => {
    const scene = Object.freeze(buildScene({ marks: [line, hand] }));
    const after = applyEvent(scene, event);
    if (event.kind === 'mark' && Object.keys(change).length === 0)
      expect(after).toEqual({ ...scene, marks: [line, hand, event.mark] });
    else expect(after).toEqual({ ...scene, ...change });
  });

  it.each<[string, BreakdownEvent]>([
    ['grows a mark that is not there', { t: 1, kind: 'grow', id: OTHER_CLIP, points: [point] }],
    ['grows a mark that is no free hand', { t: 1, kind: 'grow', id: line.id, points: [point] }],
    ['rubs out what is not there', { t: 1, kind: 'rub', ids: [OTHER_CLIP] }],
  ])('that %s changes nothing', (_, event) => {
    const scene = buildScene({ marks: [line, hand] });
    expect(applyEvent(scene, event)).toEqual(scene);
  });

  it('never makes a scene that could not be stored', () => {
    const full = buildScene({ marks: Array.from({ length: 400 }, () => buildMark('line')) });
    expect(applyEvent(full, { t: 1, kind: 'mark', mark: buildMark('arrow') }).marks).toHaveLength(400);
    const long = buildScene({ marks: [{ ...hand, points: Array(1999).fill(point) }] });
    const grown = applyEvent(long, { t: 1, kind: 'grow', id: hand.id, points: [point, point, point] });
    expect(grown.marks[0]?.points).toHaveLength(2000);
  });
});
