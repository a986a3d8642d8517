import * as fc from 'fast-check';
import * as z from 'zod';
import { describe, expect, it } from 'vitest';
import { parseMark, parseMarks } from '@/lib/domain/marks/parse-mark';
import { versionedParser } from '@/lib/domain/marks/versioned';
import { CagepostError } from '@/lib/domain/shared/errors';
import { aMark, buildMark } from './build-mark';

const faultOf = (attempt: () => unknown) => {
  try {
    attempt();
  } catch (error) {
    return error instanceof CagepostError ? error.fault : error;
  }
  return 'accepted';
};

describe('parseMark', () => {
  it('gives back every mark it is given, after a trip through JSON', () => {
    fc.assert(
      fc.property(aMark(), (mark) => {
        expect(parseMark(JSON.parse(JSON.stringify(mark)))).toEqual(mark);
      }),
    );
  });

  it.each([
    ['nothing', null],
    ['a string', 'line'],
    ['no version', { ...buildMark('line'), version: undefined }],
    ['a version below the first', { ...buildMark('line'), version: 0 }],
    ['an unknown kind', { ...buildMark('line'), kind: 'spiral' }],
    ['an id that is none', { ...buildMark('line'), id: 'mark-1' }],
    ['a frame between frames', { ...buildMark('line'), frame: 1.5 }],
    ['a frame before the first', { ...buildMark('line'), frame: -1 }],
    [
      'a point far outside',
      {
        ...buildMark('line'),
        points: [
          { x: 0, y: 0 },
          { x: 9, y: 0 },
        ],
      },
    ],
    [
      'a point that is no number',
      {
        ...buildMark('line'),
        points: [
          { x: 0, y: 0 },
          { x: Number.NaN, y: 0 },
        ],
      },
    ],
    ['one point too few', { ...buildMark('angle'), points: buildMark('line').points }],
    ['a chalk that we do not have', { ...buildMark('line'), chalk: 'red' }],
    [
      'a plumb line that leans',
      {
        ...buildMark('plumb'),
        points: [
          { x: 0.5, y: 0 },
          { x: 0.51, y: 1 },
        ],
      },
    ],
    ['words that say nothing', { ...buildMark('text'), text: '   ' }],
    ['words without end', { ...buildMark('text'), text: 'x'.repeat(81) }],
    ['a scribble of too many points', { ...buildMark('freehand'), points: Array(2001).fill({ x: 0, y: 0 }) }],
  ])('refuses %s', (_, raw) => {
    expect(faultOf(() => parseMark(raw))).toBe('invalid');
  });

  it('tells a newer version apart from a broken one', () => {
    expect(faultOf(() => parseMark({ ...buildMark('line'), version: 2 }))).toBe('conflict');
  });

  it('never lets anything but a mark or a refusal out', () => {
    fc.assert(
      fc.property(fc.anything(), (raw) => {
        expect(['accepted', 'invalid', 'conflict']).toContain(faultOf(() => parseMark(raw)));
      }),
    );
  });

  it('keeps values out of the log', () => {
    try {
      parseMark({ ...buildMark('text'), text: `Wren ${'x'.repeat(90)}` });
      expect.unreachable();
    } catch (error) {
      expect(JSON.stringify((error as CagepostError).detail)).not.toContain('Wren');
    }
  });
});

describe('parseMarks', () => {
  it('reads a list', () => {
    const marks = [buildMark('line'), buildMark('angle')];
    expect(parseMarks(marks)).toEqual(marks);
    expect(parseMarks([])).toEqual([]);
  });

  it.each([
    ['something else than a list', {}],
    ['one bad mark among good ones', [buildMark('line'), { ...buildMark('line'), chalk: 'red' }]],
    ['more than a lesson holds', Array.from({ length: 401 }, () => buildMark('line'))],
  ])('refuses %s', (_, raw) => {
    expect(faultOf(() => parseMarks(raw))).toBe('invalid');
  });

  it('refuses two marks with one id, whatever its case', () => {
    const mark = buildMark('line', { id: '018f5e2a-0000-7000-8000-00000000abcd' });
    expect(faultOf(() => parseMarks([mark, { ...mark, id: mark.id.toUpperCase() }]))).toBe('invalid');
  });
});

describe('versionedParser', () => {
  // An invented shape whose second version renamed a field and whose third wants it doubled.
  const parse = versionedParser({
    what: 'thing',
    version: 3,
    upgrades: {
      1: ({ size, ...rest }) => ({ ...rest, width: size }),
      2: (old) => ({ ...old, width: Number(old.width) * 2 }),
    },
    schema: z.object({ version: z.literal(3), width: z.number() }),
  });

  it('lifts an old shape step by step', () => {
    expect(parse({ version: 1, size: 4 })).toEqual({ version: 3, width: 8 });
    expect(parse({ version: 2, width: 4 })).toEqual({ version: 3, width: 8 });
    expect(parse({ version: 3, width: 4 })).toEqual({ version: 3, width: 4 });
  });

  it('refuses what lifting does not make whole', () => {
    expect(faultOf(() => parse({ version: 1 }))).toBe('invalid');
    expect(faultOf(() => parse({ version: 4, width: 1 }))).toBe('conflict');
  });

  it('refuses a version that it has no way up from', () => {
    const strict = versionedParser({ what: 'thing', version: 3, upgrades: {}, schema: z.unknown() });
    expect(faultOf(() => strict({ version: 2 }))).toBe('invalid');
  });
});
