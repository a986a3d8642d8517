import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cueSchema, MAX_CUE_CHARS, MAX_CUE_MS, MAX_CUES, type Cue } from '@/lib/domain/captions/cue';
import {
  addCue,
  joinWithNext,
  removeCue,
  setText,
  setTimes,
  shiftCues,
  splitCue,
} from '@/lib/domain/captions/edit-cues';
import { cueAt, searchTranscript, transcriptOf } from '@/lib/domain/captions/find-cue';
import { CagepostError } from '@/lib/domain/shared/errors';

const CUES: readonly Cue[] = Object.freeze([
  { fromMs: 1000, toMs: 3000, text: 'Watch the front foot.' },
  { fromMs: 3000, toMs: 5000, text: 'It lands early,' },
  { fromMs: 6000, toMs: 8000, text: 'before the hands go.' },
]);

describe('edits', () => {
  it('splits at the cursor, in proportion to the words or where the voice stands', () => {
    expect(splitCue(CUES, 0, 9).slice(0, 2)).toEqual([
      { fromMs: 1000, toMs: 1900, text: 'Watch the' },
      { fromMs: 1900, toMs: 3000, text: 'front foot.' },
    ]);
    expect(splitCue(CUES, 0, 9, 2500)[1]).toMatchObject({ fromMs: 2500, toMs: 3000 });
    expect(splitCue(CUES, 0, 9, 99_000)[0]).toMatchObject({ fromMs: 1000, toMs: 2900 });
  });

  it('joins with the next, over both times', () => {
    expect(joinWithNext(CUES, 1)).toEqual([
      CUES[0],
      { fromMs: 3000, toMs: 8000, text: 'It lands early, before the hands go.' },
    ]);
  });

  it('gives back the words and times of a caption that was split and joined again', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 0, max: 9000 }), (textAt, atMs) => {
        expect(joinWithNext(splitCue(CUES, 0, textAt, atMs), 0)[0]?.text.replace(/ /g, '')).toBe(
          'Watchthefrontfoot.',
        );
        expect(joinWithNext(splitCue(CUES, 0, textAt, atMs), 0)[0]).toMatchObject({
          fromMs: 1000,
          toMs: 3000,
        });
      }),
    );
  });

  it('shifts one and all after it', () => {
    expect(shiftCues(CUES, -1000).map((cue) => cue.fromMs)).toEqual([0, 2000, 5000]);
    expect(shiftCues(CUES, 500, 1).map((cue) => cue.toMs)).toEqual([3000, 5500, 8500]);
  });

  it('changes words and times, adds and removes', () => {
    expect(setText(CUES, 0, '  Watch \n\n it. ')[0]?.text).toBe('Watch\nit.');
    expect(setTimes(CUES, 1, { fromMs: 2500, toMs: 5500 })[1]).toEqual({
      fromMs: 2500,
      toMs: 5500,
      text: 'It lands early,',
    });
    expect(addCue(CUES, { fromMs: 3000, toMs: 3500, text: 'See?' })[2]?.text).toBe('See?');
    expect(addCue(CUES, { fromMs: 9000, toMs: 9500, text: 'Good.' })[3]?.text).toBe('Good.');
    expect(removeCue(CUES, 1)).toEqual([CUES[0], CUES[2]]);
  });

  it.each<[string, () => unknown, string]>([
    ['a split before the first word', () => splitCue(CUES, 0, 0), 'between two words'],
    ['a split after the last word', () => splitCue(CUES, 0, 99), 'between two words'],
    ['a split of a blink', () => splitCue([{ fromMs: 0, toMs: 150, text: 'a b' }], 0, 1), 'too short'],
    ['a join of the last one', () => joinWithNext(CUES, 2), 'no caption after'],
    [
      'a join to more letters than fit',
      () =>
        joinWithNext(
          CUES.map((cue) => ({ ...cue, text: 'a'.repeat(MAX_CUE_CHARS) })),
          0,
        ),
      'at most',
    ],
    ['a shift before the voice', () => shiftCues(CUES, -1001), 'before the voice'],
    ['a shift past the one above', () => shiftCues(CUES, -2001, 1), 'before the one above'],
    ['a shift past any voice', () => shiftCues(CUES, MAX_CUE_MS), 'later than any voice'],
    ['no words', () => setText(CUES, 0, ' \n '), 'needs words'],
    [
      'times the wrong way round',
      () => setTimes(CUES, 0, { fromMs: 2000, toMs: 2000 }),
      'ends after it begins',
    ],
    [
      'a beginning above the one above',
      () => setTimes(CUES, 1, { fromMs: 999, toMs: 5000 }),
      'after the one above',
    ],
    [
      'a beginning below the one below',
      () => setTimes(CUES, 1, { fromMs: 6001, toMs: 7000 }),
      'before the one below',
    ],
    [
      'a time between milliseconds',
      () => setTimes(CUES, 0, { fromMs: 0.5, toMs: 2 }),
      'no time of the voice',
    ],
    ['a time before 0', () => addCue(CUES, { fromMs: -1, toMs: 2, text: 'a' }), 'no time of the voice'],
    [
      'a time that is none',
      () => addCue(CUES, { fromMs: 0, toMs: Number.NaN, text: 'a' }),
      'no time of the voice',
    ],
    [
      'one too many',
      () =>
        addCue(Array<Cue>(MAX_CUES).fill({ fromMs: 0, toMs: 9, text: 'a' }), {
          fromMs: 0,
          toMs: 1,
          text: 'a',
        }),
      'at most',
    ],
    ['a caption that is not there', () => removeCue(CUES, 3), 'no such caption'],
  ])('refuses %s, and says that nothing was changed', (_, edit, words) => {
    const before = structuredClone(CUES);
    let refusal: unknown;
    try {
      edit();
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(CagepostError);
    expect((refusal as CagepostError).forPeople).toContain(words);
    expect((refusal as CagepostError).forPeople).toContain('left as they are');
    expect(CUES).toEqual(before);
  });

  it('keeps the rules through any row of edits', () => {
    const place = fc.nat(6);
    const ms = fc.nat(12_000);
    type Edit = (cues: readonly Cue[]) => Cue[];
    const edit = fc.oneof(
      fc
        .tuple(place, fc.nat(30), fc.option(ms, { nil: undefined }))
        .map<Edit>((a) => (cues) => splitCue(cues, ...a)),
      place.map<Edit>((at) => (cues) => joinWithNext(cues, at)),
      fc
        .tuple(fc.integer({ min: -3000, max: 3000 }), place)
        .map<Edit>((a) => (cues) => shiftCues(cues, ...a)),
      fc.tuple(place, fc.string()).map<Edit>((a) => (cues) => setText(cues, ...a)),
      fc.tuple(place, ms, ms).map<Edit>(
        ([at, fromMs, toMs]) =>
          (cues) =>
            setTimes(cues, at, { fromMs, toMs }),
      ),
      fc.tuple(ms, ms, fc.string()).map<Edit>(
        ([fromMs, toMs, text]) =>
          (cues) =>
            addCue(cues, { fromMs, toMs, text }),
      ),
      place.map<Edit>((at) => (cues) => removeCue(cues, at)),
    );
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 12 }), (edits) => {
        let cues: readonly Cue[] = CUES;
        for (const change of edits) {
          try {
            cues = change(cues);
          } catch (error) {
            if (!(error instanceof CagepostError)) throw error;
          }
          cues.forEach((cue, at) => {
            expect(cueSchema.safeParse(cue).error).toBeUndefined();
            expect(cue.fromMs).toBeGreaterThanOrEqual(cues[at - 1]?.fromMs ?? 0);
          });
        }
      }),
      { numRuns: 400 },
    );
  });
});

describe('finding', () => {
  it('shows a caption from its beginning until just before its end, of two the later', () => {
    const over = addCue(CUES, { fromMs: 4000, toMs: 4500, text: 'Here!' });
    const shown = [999, 1000, 2999, 3000, 4000, 4499, 4500, 5000, 7999, 8000].map(
      (ms) => cueAt(over, ms)?.text ?? null,
    );
    expect(shown).toEqual([
      null,
      'Watch the front foot.',
      'Watch the front foot.',
      'It lands early,',
      'Here!',
      'Here!',
      'It lands early,',
      null,
      'before the hands go.',
      null,
    ]);
  });

  it('finds words whatever their case, accents and order, over two captions too', () => {
    const at = (words: string) => searchTranscript(CUES, words).map((hit) => hit.at);
    expect(at('FOOT watch')).toEqual([0]);
    expect(at('fróńt')).toEqual([0]);
    expect(at('early before')).toEqual([1]);
    expect(at('han')).toEqual([2]);
    expect(at('oot')).toEqual([]);
    expect(at('foot hands')).toEqual([]);
    expect(at('  … ')).toEqual([]);
    expect(searchTranscript([{ fromMs: 0, toMs: 9, text: 'Così\nfan' }], 'cosi fan')).toHaveLength(1);
  });

  it('writes out all that is said', () => {
    expect(transcriptOf(CUES)).toBe('Watch the front foot.\nIt lands early,\nbefore the hands go.');
  });
});
