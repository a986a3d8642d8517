import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import { breakLines } from '@/lib/review/canvas/paint-caption';
import { pictureRun } from '@/lib/review/export/picture-run';
import { writtenCues } from '@/lib/review/export/written-cues';
import { buildScene } from '../../support/build-scene';

const CLIP = '018f5e2a-0000-7000-8000-00000000c11b';
const scene = buildScene({ clipId: CLIP });
const begin: BreakdownEvent = { t: 0, kind: 'scene', scene };
const frames = (steps: readonly { t: number; frame: number }[]): BreakdownEvent[] => [
  begin,
  ...steps.map(({ t, frame }): BreakdownEvent => ({ t, kind: 'frame', clipId: CLIP, frame })),
];

describe('which pictures a file needs', () => {
  test('one that stays is there once, whatever else happens', () => {
    const events: BreakdownEvent[] = [
      begin,
      { t: 200, kind: 'choose', checkpoint: 'load', itemId: 'load-hands' },
      { t: 400, kind: 'play', isPlaying: true, speed: 0.5 },
      { t: 900, kind: 'frame', clipId: CLIP, frame: 0 },
      { t: 1200, kind: 'scene', scene: structuredClone(scene) },
    ];
    expect([...pictureRun({ events, durationMs: 5000 }, [])].map(({ atMs }) => atMs)).toEqual([0]);
  });

  test('a mark of another frame changes nothing', () => {
    const mark = {
      version: 1 as const,
      id: '018f5e2a-0000-7000-8000-000000000001',
      clipId: CLIP,
      frame: 9,
      span: 1,
      chalk: 'sky' as const,
      itemId: null,
      hidden: false,
      kind: 'text' as const,
      points: [{ x: 0.5, y: 0.5 }] as [{ x: number; y: number }],
      text: 'here',
    };
    const events: BreakdownEvent[] = [
      begin,
      { t: 100, kind: 'mark', mark },
      { t: 300, kind: 'frame', clipId: CLIP, frame: 9 },
    ];
    expect([...pictureRun({ events, durationMs: 900 }, [])].map(({ atMs }) => atMs)).toEqual([0, 300]);
  });

  test('whatever was done: every picture is the scene of its moment, and none is missing for long', () => {
    const steps = fc
      .array(fc.record({ t: fc.integer({ min: 0, max: 4000 }), frame: fc.integer({ min: 0, max: 5 }) }), {
        maxLength: 60,
      })
      .map((list) => list.sort((a, b) => a.t - b.t));
    fc.assert(
      fc.property(steps, (list) => {
        const timeline = { events: frames(list), durationMs: 4100 };
        const index = indexTimeline(timeline);
        const pictures = [...pictureRun(timeline, [])];
        for (const picture of pictures) expect(picture.scene.frame).toBe(sceneAt(index, picture.atMs).frame);
        pictures.slice(1).forEach((picture, at) => {
          expect(picture.atMs - pictures[at]!.atMs).toBeGreaterThanOrEqual(33);
        });
        for (let ms = 0; ms < 4000; ms += 7) {
          // A thirtieth of a second after the last change the file shows what the player shows.
          const isQuiet = !list.some(({ t }) => t > ms - 34 && t <= ms);
          const shown = pictures.findLast(({ atMs }) => atMs <= ms);
          if (isQuiet) expect(shown?.scene.frame).toBe(sceneAt(index, ms).frame);
        }
      }),
    );
  });

  test('written sentences become cues that end where the next begins', () => {
    const events: BreakdownEvent[] = [
      begin,
      { t: 500, kind: 'caption', text: 'Look at the foot' },
      { t: 1500, kind: 'caption', text: 'Now closed' },
      { t: 2000, kind: 'caption', text: '' },
    ];
    expect(writtenCues({ events, durationMs: 3000 })).toEqual([
      { fromMs: 500, toMs: 1500, text: 'Look at the foot' },
      { fromMs: 1500, toMs: 2000, text: 'Now closed' },
    ]);
  });

  test('captions are broken where they still fit; one long word stands alone', () => {
    const fits = (line: string) => line.length <= 12;
    expect(breakLines('land with your foot closed', fits)).toEqual(['land with', 'your foot', 'closed']);
    expect(breakLines('extraordinarily so\nyes', fits)).toEqual(['extraordinarily', 'so', 'yes']);
  });
});
