import * as fc from 'fast-check';
import { CHECKPOINTS, VERDICTS } from '@/lib/domain/checkpoints/checkpoint';
import { plainDose } from '@/lib/domain/drills/dose';
import { emptySheet, type Sheet } from '@/lib/domain/review/sheet';
import { aMark, CLIP } from '../marks/build-mark';

/** A sheet with the given parts. */
export const buildSheet = (overrides: Partial<Sheet> = {}): Sheet => ({ ...emptySheet(), ...overrides });

const ITEMS = ['head-to-pitcher', 'front-foot', 'full-finish', 'knees-inside'];
const ids = (digit: number) =>
  Array.from({ length: 4 }, (_, i) => `018f5e2a-${digit}${i}00-7000-8000-000000000000`);
const CUE_IDS = ids(1);
const MARK_IDS = ids(2);
const GIVEN_IDS = ids(3);

/** Any sheet over a small stock of keys, so that two of them often touch the same thing. */
export const aSheet = (): fc.Arbitrary<Sheet> =>
  fc.record({
    version: fc.constant(1 as const),
    pins: fc.uniqueArray(
      fc.record({
        checkpoint: fc.constantFrom(...CHECKPOINTS),
        clipId: fc.constant(CLIP),
        frame: fc.nat(20),
        strike: fc.constant(null),
      }),
      { selector: (p) => p.checkpoint, maxLength: 5 },
    ),
    answers: fc.uniqueArray(
      fc.record({
        itemId: fc.constantFrom(...ITEMS),
        verdict: fc.option(fc.constantFrom(...VERDICTS)),
        note: fc.constantFrom('', 'Good.', 'Look here.'),
        clipId: fc.constant(null),
        frame: fc.option(fc.nat(20)),
      }),
      { selector: (a) => a.itemId, maxLength: 4 },
    ),
    fixFirst: fc.option(
      fc.record({
        itemId: fc.constantFrom(...ITEMS),
        sentence: fc.constantFrom('', 'Keep the front side in.'),
      }),
    ),
    cues: fc.uniqueArray(
      fc.record({
        id: fc.constantFrom(...CUE_IDS),
        text: fc.constantFrom('Belt to the mound', 'Toe to the tee'),
        focus: fc.constantFrom('external' as const, 'internal' as const),
      }),
      { selector: (c) => c.id, maxLength: 4 },
    ),
    marks: fc.uniqueArray(
      fc.constantFrom(...MARK_IDS).chain((id) => aMark(id)),
      {
        selector: (m) => m.id,
        maxLength: 4,
      },
    ),
    calibrations: fc.uniqueArray(
      fc.record({
        clipId: fc.constant(CLIP),
        fromFrame: fc.nat(3),
        field: fc.constantFrom('baseball' as const, 'youth' as const),
        ground: fc.constant([]),
        isZoomed: fc.option(fc.boolean()),
      }),
      { selector: (c) => c.fromFrame, maxLength: 3 },
    ),
    joints: fc.uniqueArray(
      fc.record({
        clipId: fc.constant(CLIP),
        frame: fc.nat(2),
        name: fc.constantFrom('head' as const, 'belt' as const),
        point: fc.record({ x: fc.constantFrom(0.25, 0.5), y: fc.constant(0.5) }),
        isLifted: fc.boolean(),
      }),
      { selector: (j) => `${j.frame}/${j.name}`, maxLength: 4 },
    ),
    assignments: fc.uniqueArray(
      fc.record({
        id: fc.constantFrom(...GIVEN_IDS),
        drillId: fc.constant(CLIP),
        dose: fc.constantFrom(plainDose('tee', null), plainDose('toss', null)),
        cue: fc.constantFrom('', 'Belt to the mound'),
        swingBy: fc.option(fc.constant('2026-03-14')),
      }),
      { selector: (a) => a.id, maxLength: 3 },
    ),
  });
