import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  draftSchema,
  emptyDraft,
  MISSING_WORDS,
  missingForSend,
  PAIN_PLACES,
  type Draft,
} from '@/lib/domain/lessons/intake';

const CLIP = {
  id: '018f5e2a-1000-7000-8000-000000000000',
  view: 'open_side',
  captureRate: null,
  focal35mm: null,
  isZoomed: null,
} as const;
const full = (over: Partial<Draft> = {}): Draft => ({
  ...emptyDraft(),
  question: 'Do I fly open?',
  bats: 'left',
  pitchMode: 'tee',
  painLevel: 0,
  clips: [CLIP],
  ...over,
});

describe('what is missing before a lesson can be sent', () => {
  test('nothing, when all is answered; place of the pitch and result may stay open', () => {
    expect(missingForSend(full())).toEqual([]);
  });

  test('everything, in the order of the form, for a form nobody has touched', () => {
    expect(missingForSend(emptyDraft())).toEqual(['clip', 'bats', 'pitch-mode', 'pain', 'question']);
  });

  test.each([
    ['clip', full({ clips: [] })],
    ['bats', full({ bats: null })],
    ['view', full({ clips: [CLIP, { ...CLIP, view: null }] })],
    ['pitch-mode', full({ pitchMode: null })],
    ['pain', full({ painLevel: null })],
    ['pain-where', full({ painLevel: 1 })],
    ['pain-where', full({ painLevel: 10, painWhere: '  ' })],
    ['question', full({ question: ' \n ' })],
  ] as const)('%s alone', (what, draft) => {
    expect(missingForSend(draft)).toEqual([what]);
    expect(MISSING_WORDS[what]).toMatch(/^[A-Z].+\.$/);
  });

  test('pain with its place, and no pain without one, are both answers', () => {
    expect(missingForSend(full({ painLevel: 3, painWhere: PAIN_PLACES[1] }))).toEqual([]);
    expect(missingForSend(full({ painLevel: 0, painWhere: null }))).toEqual([]);
  });

  test('answering one thing never makes another one missing, but for where it hurts', () => {
    const aDraft = fc.record({
      question: fc.constantFrom('', 'Why?'),
      bats: fc.constantFrom(null, 'right' as const),
      pitchMode: fc.constantFrom(null, 'live' as const),
      pitchZone: fc.constantFrom(null, 4),
      result: fc.constant(null),
      painLevel: fc.constantFrom(null, 0, 4),
      painWhere: fc.constantFrom(null, 'elbow'),
      clips: fc.constantFrom<Draft['clips']>([], [CLIP], [{ ...CLIP, view: null }]),
    });
    fc.assert(
      fc.property(aDraft, fc.constantFrom(...(Object.keys(full()) as (keyof Draft)[])), (draft, field) => {
        const before = missingForSend(draft);
        const after = missingForSend({ ...draft, [field]: full()[field] });
        expect(after.filter((what) => !before.includes(what) && what !== 'pain-where')).toEqual([]);
      }),
    );
  });
});

describe('a draft as it is kept', () => {
  test('may be empty', () => {
    expect(draftSchema.parse(emptyDraft())).toEqual(emptyDraft());
  });

  test.each([
    ['five clips', full({ clips: [CLIP, CLIP, CLIP, CLIP, CLIP] })],
    ['pain of eleven', full({ painLevel: 11 })],
    ['half a pain', full({ painLevel: 2.5 })],
    ['a place off the grid', full({ pitchZone: 9 })],
    ['a question of 601 letters', full({ question: 'x'.repeat(601) })],
    ['a clip without an id', full({ clips: [{ ...CLIP, id: 'one' }] })],
    ['a rate of nothing', full({ clips: [{ ...CLIP, captureRate: 0 }] })],
  ])('%s is refused', (_what, draft) => {
    expect(draftSchema.safeParse(draft).success).toBe(false);
  });
});
