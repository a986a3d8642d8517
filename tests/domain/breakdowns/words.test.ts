import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AGREEMENT_MS, agrees } from '@/lib/domain/breakdowns/agreement';
import { chapterAt, chaptersOf } from '@/lib/domain/breakdowns/chapters';
import { describeTimeline } from '@/lib/domain/breakdowns/describe';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { buildMark, buildScene, buildTimeline, CLIP, OTHER_CLIP, someEvents } from './build-timeline';

const CHECKLIST = [
  { id: 'front-foot', title: 'Front foot down on time', checkpoint: 'foot_strike' as const },
  { id: 'head-still', title: 'Head still', checkpoint: 'contact' as const },
];
const choose = (t: number, itemId: string | null, checkpoint: 'contact' | 'foot_strike' | null = null) =>
  ({ t, kind: 'choose', checkpoint, itemId }) as BreakdownEvent;

describe('chaptersOf', () => {
  it('makes one chapter of each item in a row, titled by the checklist', () => {
    const timeline = buildTimeline([
      choose(5000, 'front-foot'),
      choose(9000, 'front-foot'),
      choose(20_000, 'head-still', 'contact'),
      choose(40_000, 'gone-item', 'contact'),
      choose(50_000, null),
    ]);
    expect(chaptersOf(timeline, CHECKLIST).map(({ fromMs, toMs, title }) => [fromMs, toMs, title])).toEqual([
      [0, 5000, 'The whole swing'],
      [5000, 20_000, 'Front foot down on time'],
      [20_000, 40_000, 'Head still'],
      [40_000, 50_000, 'Contact'],
      [50_000, 60_000, 'The whole swing'],
    ]);
  });

  it('passes over items that the hand only went past', () => {
    const timeline = buildTimeline([
      choose(200, 'head-still'),
      choose(5000, 'head-still'),
      choose(5300, 'front-foot'),
      choose(59_500, null),
    ]);
    expect(chaptersOf(timeline, CHECKLIST).map(({ fromMs, toMs, title }) => [fromMs, toMs, title])).toEqual([
      [0, 5300, 'Head still'],
      [5300, 60_000, 'Front foot down on time'],
    ]);
  });

  it('covers the breakdown from 0 to its end without a gap', () => {
    fc.assert(
      fc.property(someEvents(60_000, 80), fc.nat(60_000), (events, ms) => {
        const chapters = chaptersOf(buildTimeline([], { events }), CHECKLIST);
        expect(chapters[0]?.fromMs).toBe(0);
        expect(chapters.at(-1)?.toMs).toBe(60_000);
        chapters.slice(1).forEach((chapter, n) => expect(chapter.fromMs).toBe(chapters[n]!.toMs));
        const on = chapterAt(chapters, ms)!;
        expect(on.fromMs).toBeLessThanOrEqual(ms);
        expect(on.toMs).toBeGreaterThanOrEqual(ms);
      }),
    );
    expect(chapterAt([], 5)).toBeNull();
  });
});

describe('agrees', () => {
  it('lets pass what a recorder cannot help, and says by how much the rest is off', () => {
    expect(agrees(60_000, 60_000 + AGREEMENT_MS)).toEqual({
      isAgreed: true,
      offMs: -AGREEMENT_MS,
      sentence: null,
    });
    expect(agrees(55_000, 60_000)).toMatchObject({
      isAgreed: false,
      offMs: -5000,
      sentence: expect.stringMatching(
        /^The voice of this take ends 5\.0 seconds before the picture does\. Both were kept/,
      ),
    });
    expect(agrees(60_000, 55_000).sentence).toContain(
      'The picture of this take ends 5.0 seconds before the voice',
    );
  });
});

describe('describeTimeline', () => {
  const words = {
    checklist: CHECKLIST,
    clipName: (id: string) => (id === CLIP ? 'Clip 1' : 'Clip 2'),
    sizeOf: () => ({ width: 1280, height: 720 }),
  };
  const say = (events: BreakdownEvent[]) => describeTimeline(buildTimeline(events), words);

  it('says what is done, in order, a gesture once', () => {
    const hand = buildMark('freehand', { itemId: 'head-still', points: [{ x: 0.1, y: 0.1 }] });
    expect(
      say([
        choose(1000, 'front-foot', 'foot_strike'),
        ...[140, 145, 150].map((frame, n): BreakdownEvent => ({
          t: 2000 + n * 100,
          kind: 'frame',
          clipId: CLIP,
          frame,
        })),
        { t: 4000, kind: 'play', isPlaying: true, speed: 0.25 },
        { t: 4100, kind: 'frame', clipId: CLIP, frame: 151 },
        { t: 4200, kind: 'frame', clipId: CLIP, frame: 152 },
        { t: 5000, kind: 'play', isPlaying: false, speed: 0.25 },
        { t: 6000, kind: 'mark', mark: hand },
        { t: 6100, kind: 'point', at: { x: 0.9, y: 0.9 } },
        { t: 6200, kind: 'grow', id: hand.id, points: [{ x: 0.9, y: 0.9 }] },
        { t: 6300, kind: 'point', at: null },
        { t: 7000, kind: 'look', look: { x: 0.2, y: 0.9, zoom: 3 } },
        { t: 8000, kind: 'look', look: { x: 0.5, y: 0.5, zoom: 1 } },
        { t: 9000, kind: 'beside', beside: { clipId: OTHER_CLIP, frame: 12, opacity: 0 } },
        { t: 9800, kind: 'beside', beside: null },
        { t: 10_000, kind: 'chalk', isShown: false },
        { t: 11_000, kind: 'rub', ids: [hand.id] },
        { t: 12_000, kind: 'caption', text: 'Stay back.' },
        { t: 13_000, kind: 'scene', scene: buildScene({ frame: 9 }) },
      ]).map(({ atMs, text }) => `${atMs} ${text}`),
    ).toEqual([
      '0 The whole swing. Clip 1, frame 138.',
      '1000 Foot strike: Front foot down on time.',
      '2000 Clip 1, frame 150.',
      '4000 The clip plays at 0.25 of its speed.',
      '5000 The clip stops on frame 152.',
      '6000 Drawn: Free hand, white, from the upper left to the lower right, frame 138, for Head still.',
      '6100 The coach points at the lower right.',
      '7000 The picture is shown 3 times as large, around the lower left.',
      '8000 The whole picture is shown.',
      '9000 Beside it is Clip 2, frame 12.',
      '9800 One clip is shown alone.',
      '10000 The marks are hidden.',
      '11000 A mark is rubbed out.',
      '12000 Stay back.',
      '13000 The whole swing. Clip 1, frame 9.',
    ]);
  });

  it('does not repeat what a joint between two takes repeats', () => {
    expect(say([{ t: 5000, kind: 'scene', scene: buildScene() }])).toHaveLength(1);
  });

  it('has words for everything, in order of time', () => {
    fc.assert(
      fc.property(someEvents(60_000, 60), (events) => {
        const steps = describeTimeline({ events }, words);
        expect(steps.map((step) => step.atMs)).toEqual(steps.map((step) => step.atMs).sort((a, b) => a - b));
        for (const { text } of steps) expect(text).toMatch(/^[A-Z].*[.]$/s);
      }),
    );
  });
});
