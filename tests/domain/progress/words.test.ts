import { describe, expect, test } from 'vitest';
import { MEASURE_NAMES } from '@/lib/domain/measures/names';
import { changeSentence, movedWords, numberWords } from '@/lib/domain/progress/change-words';
import { countWord, headline } from '@/lib/domain/progress/headline';
import { seriesOf } from '@/lib/domain/progress/series';
import { aMeasure, anOccasion, lessonsOf } from './build-series';

const FOOT = 'stride-foot-openness';
const foot = (...given: Parameters<typeof lessonsOf>) => seriesOf(FOOT, lessonsOf(...given), []);
const said = (series: Parameters<typeof headline>[0], whose = 'your') =>
  headline(series, { whose, first: [] });

describe('the sentence on top', () => {
  test('a change beyond noise', () => {
    expect(
      said([
        foot([
          [62, 4],
          [55, 4],
          [47, 4],
        ]),
      ]),
    ).toBe('Your stride foot closed from 62° ± 4° to 47° ± 4° in three lessons; more than noise.');
    expect(
      said(
        [
          foot([
            [40, 4],
            [55, 4],
          ]),
        ],
        'Caleb’s',
      ),
    ).toBe('Caleb’s stride foot opened from 40° ± 4° to 55° ± 4° in two lessons; more than noise.');
  });

  test('a difference within noise is not called a change', () => {
    expect(
      said([
        foot([
          [62, 4],
          [55, 4],
        ]),
      ]),
    ).toBe(
      'Your stride foot went from 62° ± 4° to 55° ± 4° in two lessons; within the noise of 10°, so no change can be claimed.',
    );
  });

  test('an estimate says so', () => {
    const lessons = lessonsOf([
      [62, 4],
      [40, 9],
    ]);
    const estimated = lessons.map((lesson, index) =>
      index === 1 ? { ...lesson, occasion: anOccasion(aMeasure([40, 9], FOOT, 'estimate'), {}, 1) } : lesson,
    );
    expect(said([seriesOf(FOOT, estimated, [])])).toContain('to about 40° ± 9°');
  });

  test('nothing measured, one lesson measured, or lessons that differ: nothing to compare yet', () => {
    expect(said([foot([null, 'The plate was out of the picture.'])])).toBe(
      'There is nothing to compare yet: nothing has been measured so far.',
    );
    expect(said([foot([null, [60, 4]])])).toBe(
      'There is nothing to compare yet: one lesson has been measured. The next one filmed in the same way can be held against it.',
    );
    expect(
      said([
        foot(
          [
            [62, 4],
            [47, 4],
          ],
          { 1: { view: 'behind', task: 'live' } },
        ),
      ]),
    ).toBe(
      'There is nothing to compare yet: the lessons that were measured differ (filmed from another side, hit in another way).',
    );
  });

  test('the newest lesson is left out in words when it cannot be held against the others', () => {
    expect(
      said([
        foot(
          [
            [62, 4],
            [47, 4],
            [40, 4],
          ],
          { 2: { captureRate: 30 } },
        ),
      ]),
    ).toBe(
      'Your stride foot closed from 62° ± 4° to 47° ± 4° in two lessons; more than noise. Lesson 3 is not held against them: filmed at another rate.',
    );
  });

  test('what the lesson is about first, then a change before none, then the largest', () => {
    const time = (...numbers: [number, number][]) =>
      seriesOf('foot-strike-to-contact', lessonsOf(numbers, {}, 'foot-strike-to-contact'), []);
    const stride = seriesOf(
      'stride-length',
      lessonsOf(
        [
          [80, 1],
          [90, 1],
        ],
        {},
        'stride-length',
      ),
      [],
    );
    const within = foot([
      [62, 4],
      [58, 4],
    ]);
    expect(said([within, time([190, 8], [167, 8])])).toContain(
      'time from foot strike to contact got shorter',
    );
    expect(said([time([190, 8], [167, 8]), stride])).toBe(
      'Your stride grew from 80 cm ± 1 cm to 90 cm ± 1 cm in two lessons; more than noise.',
    );
    expect(headline([within, stride], { whose: 'your', first: [FOOT] })).toContain('stride foot went');
  });

  test('counts are words up to twelve', () => {
    expect([1, 2, 12, 13].map(countWord)).toEqual(['one', 'two', 'twelve', '13']);
  });
});

describe('a change in words', () => {
  test.each(MEASURE_NAMES)('%s says what rose and what fell', (name) => {
    const [low, high] = [anOccasion(aMeasure([10, 1], name)), anOccasion(aMeasure([90, 1], name), {}, 1)];
    expect(movedWords(low, high, true)).not.toBe(movedWords(high, low, true));
    expect(movedWords(low, high, false)).toContain(' went from ');
  });

  test('against its noise', () => {
    const at = (value: number, lesson: number) => anOccasion(aMeasure([value, 4]), {}, lesson);
    expect(changeSentence(at(62, 0), at(47, 1))).toBe('Changed by 15°: more than the noise of 10°.');
    expect(changeSentence(at(62, 0), at(55, 1))).toBe(
      'Differs by 7°: within the noise of 10°, so no change can be claimed.',
    );
  });

  test('of two swings of one lesson only by their intervals', () => {
    const at = (value: number) => anOccasion(aMeasure([value, 4]));
    expect(changeSentence(at(62), at(55))).toBe('Changed by 7°: more than the noise of 6°.');
  });

  test('is not told where one was not measured, or where they were come by in different ways', () => {
    const tee = anOccasion(aMeasure([62, 4]));
    const live = anOccasion(aMeasure([47, 4]), { task: 'live', captureRate: 30 }, 1);
    expect(changeSentence(tee, live)).toBe('Not compared: filmed at another rate, hit in another way.');
    const nothing = 'Not measured in both, so nothing can be said about a change.';
    expect(changeSentence(tee, null)).toBe(nothing);
    expect(changeSentence(anOccasion(aMeasure('No plate.')), tee)).toBe(nothing);
  });

  test('numbers carry unit, sign and at least one unit of interval', () => {
    expect(numberWords(anOccasion(aMeasure([-3.4, 0.2], 'head-ahead-of-belt')))).toBe('−3 cm ± 1 cm');
    expect(numberWords(anOccasion(aMeasure([-0.2, 1], 'trunk-lean')))).toBe('0° ± 1°');
    expect(numberWords(anOccasion(aMeasure('No plate.')))).toBe('');
  });
});
