import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { describeMark, placeOf } from '@/lib/domain/marks/describe';
import { angleLabel, angleOf, WHY_ON_SCREEN } from '@/lib/domain/marks/on-screen-angle';
import { aMark, buildMark } from './build-mark';

const HD = { width: 1920, height: 1080 };

describe('describeMark', () => {
  it('says what, which chalk, where, when and what for', () => {
    expect(describeMark(buildMark('plumb'), HD, 'Head over belt')).toBe(
      'Plumb line, white, from the upper middle down, frame 138, for Head over belt',
    );
    expect(describeMark(buildMark('line', { chalk: 'sky', span: 5 }), HD)).toBe(
      'Line, sky, from the upper left to the lower middle, frames 138 to 142',
    );
    expect(describeMark(buildMark('arrow', { chalk: 'clay', hidden: true }), HD)).toBe(
      'Arrow, clay, from the upper left to the lower middle, frame 138, hidden',
    );
    expect(describeMark(buildMark('circle'), HD)).toBe('Ring, white, around the middle, frame 138');
    expect(describeMark(buildMark('freehand'), HD)).toBe(
      'Free hand, white, from the upper left to the upper left, frame 138',
    );
    expect(describeMark(buildMark('text'), HD)).toBe(
      'Words, white, “stay back” at the upper middle, frame 138',
    );
    // The arm runs up left by 384 by 216 pixels, so atan(216/384) = 29.4 degrees from the level; the other runs right.
    expect(describeMark(buildMark('angle'), HD)).toBe(
      'On-screen angle, white, 151 degrees at the middle, frame 138',
    );
  });

  it('names an upside-down plumb line by its upper end', () => {
    const drawnUpwards = buildMark('plumb', {
      points: [
        { x: 0.1, y: 0.9 },
        { x: 0.1, y: 0.1 },
      ],
    });
    expect(describeMark(drawnUpwards, HD)).toContain('from the upper left down');
  });

  it('says one line of plain words for any mark', () => {
    fc.assert(
      fc.property(aMark(), (mark) => {
        const words = describeMark(mark, HD);
        expect(words).not.toMatch(/undefined|null|NaN|\n/);
        expect(words.length).toBeGreaterThan(10);
      }),
    );
  });

  it('knows nine places and the outside', () => {
    expect(placeOf({ x: 0.5, y: 0.5 })).toBe('middle');
    expect(placeOf({ x: 0.1, y: 0.5 })).toBe('middle left');
    expect(placeOf({ x: 0.9, y: 0.9 })).toBe('lower right');
    expect(placeOf({ x: 1.1, y: 0.9 })).toBe('just outside the picture');
  });
});

describe('the angle on the picture', () => {
  it('is labelled as such, in whole degrees', () => {
    const right = buildMark('angle', {
      points: [
        { x: 0.5, y: 0.1 },
        { x: 0.5, y: 0.5 },
        { x: 0.9, y: 0.5 },
      ],
    });
    expect(angleOf(right, HD)).toBe(90);
    expect(angleLabel(right, HD)).toBe('on-screen 90°');
  });

  it('has no number while an arm is missing', () => {
    const p = { x: 0.5, y: 0.5 };
    expect(angleLabel(buildMark('angle', { points: [p, p, p] }), HD)).toBe('no angle yet');
  });

  it('says that it is not the real one, and by how much it was off', () => {
    expect(WHY_ON_SCREEN).toContain('not the real one');
    expect(WHY_ON_SCREEN).toContain('16 to 31 degrees');
  });
});
