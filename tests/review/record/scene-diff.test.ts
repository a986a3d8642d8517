import fc from 'fast-check';
import { expect, test } from 'vitest';
import { eventSchema, sceneSchema, type Scene } from '@/lib/domain/breakdowns/event';
import { applyEvent } from '@/lib/domain/breakdowns/scene';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { CHALKS, type Mark } from '@/lib/domain/marks/mark';
import { changesOf, tidyLook, tidyPoint } from '@/lib/review/record/scene-diff';

const point = fc
  .record({ x: fc.double({ min: 0, max: 1, noNaN: true }), y: fc.constant(0.5) })
  .map(tidyPoint);
const clip = fc.constantFrom('0197a000-0000-7000-8000-000000000001', '0197a000-0000-7000-8000-000000000002');
const mark: fc.Arbitrary<Mark> = fc.record({
  version: fc.constant(1 as const),
  id: fc.constantFrom(...[1, 2, 3, 4].map((n) => `0197a000-0000-7000-8000-00000000001${n}`)),
  clipId: clip,
  frame: fc.nat(100),
  span: fc.constant(1),
  chalk: fc.constantFrom(...CHALKS),
  itemId: fc.constant(null),
  hidden: fc.boolean(),
  kind: fc.constant('freehand' as const),
  // Tidy already: to a thousandth.
  points: fc.array(point, { minLength: 1, maxLength: 5 }),
});
const scene: fc.Arbitrary<Scene> = fc.record({
  clipId: clip,
  frame: fc.nat(200),
  speed: fc.constantFrom(0.125, 0.25, 0.5, 1),
  isPlaying: fc.boolean(),
  look: fc.record({ x: fc.constant(0.5), y: fc.constant(0.5), zoom: fc.constantFrom(1, 2.5) }),
  checkpoint: fc.constantFrom(...CHECKPOINTS, null),
  itemId: fc.constantFrom('head', null),
  marks: fc.uniqueArray(mark, { selector: (one) => one.id, maxLength: 4 }),
  isChalkShown: fc.boolean(),
  // Far apart: a hand that moved less than a five-hundredth of the picture stands still.
  pointer: fc.constantFrom(null, { x: 0.2, y: 0.3 }, { x: 0.7, y: 0.3 }),
  beside: fc.constantFrom(null, { clipId: '0197a000-0000-7000-8000-000000000002', frame: 3, opacity: 0.5 }),
  caption: fc.constantFrom('', 'Stay back.'),
});
const byId = (one: Scene) => ({ ...one, marks: one.marks.toSorted((a, b) => a.id.localeCompare(b.id)) });

test('the changes between two scenes, done in order, make the second of the first', () => {
  fc.assert(
    fc.property(scene, scene, (before, after) => {
      const changes = changesOf(before, after, new Set());
      const made = changes.reduce((so, change) => applyEvent(so, { t: 0, ...change }), before);
      expect(byId(sceneSchema.parse(made))).toEqual(byId(after));
      for (const change of changes) expect(eventSchema.safeParse({ t: 1, ...change }).success).toBe(true);
    }),
  );
});

test('a scene that stays as it is changes nothing', () => {
  fc.assert(
    fc.property(scene, (one) => {
      expect(changesOf(one, { ...one }, new Set())).toEqual([]);
    }),
  );
});

test('a line in hand grows by where the hand is; out of hand it is written whole', () => {
  fc.assert(
    fc.property(scene, mark, (base, line) => {
      if (line.kind !== 'freehand') throw new Error('Not a line');
      const before = { ...base, marks: [line] };
      const longer: Mark = { ...line, points: [...line.points, { x: 1.2, y: 0.1 }] };
      const after = { ...base, marks: [longer] };
      expect(changesOf(before, after, new Set([line.id]))).toEqual([
        { kind: 'grow', id: line.id, points: [{ x: 1.2, y: 0.1 }] },
      ]);
      expect(changesOf(before, after, new Set())).toEqual([{ kind: 'mark', mark: longer }]);
    }),
  );
});

test('what is looked at and pointed to is held to what a scene takes', () => {
  expect(tidyLook({ x: 9, y: -9, zoom: 100 })).toEqual({ x: 1.5, y: -0.5, zoom: 40 });
  expect(tidyPoint({ x: 0.123456, y: 2 })).toEqual({ x: 0.123, y: 1.5 });
});
