import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WebVTTParser } from 'webvtt-parser';
import entities from 'webvtt-parser/html-entities.json';
import {
  cueSchema,
  MAX_CUE_CHARS,
  MAX_CUE_MS,
  MAX_CUES,
  MAX_VTT_CHARS,
  tidyText,
  type Cue,
} from '@/lib/domain/captions/cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import { readTimestamp, writeTimestamp } from '@/lib/domain/captions/timestamp';
import { writeVtt } from '@/lib/domain/captions/write-vtt';
import { CagepostError } from '@/lib/domain/shared/errors';

// The W3C's own parser and validator in JavaScript (github.com/w3c/webvtt.js).
interface Node {
  type: string;
  value?: string;
  children?: Node[];
}
const reference = (text: string) => {
  const { cues, errors } = new WebVTTParser(entities as Record<string, string>).parse(text, 'captions');
  const wordsOf = (node: Node): string =>
    node.type === 'text' ? (node.value ?? '') : (node.children ?? []).map(wordsOf).join('');
  return {
    errors: errors.map((error) => error.message),
    cues: cues.map((cue) => ({
      fromMs: Math.round(cue.startTime * 1000),
      toMs: Math.round(cue.endTime * 1000),
      text: tidyText(wordsOf(cue.tree as Node)),
    })),
  };
};

const aCue = fc
  .record({
    fromMs: fc.nat(600_000),
    length: fc.integer({ min: 1, max: 9000 }),
    text: fc.oneof(
      fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 }),
      fc
        .array(
          fc.constantFrom(
            'a',
            'Stay back',
            '<',
            '>',
            '&',
            '&amp;',
            '-->',
            '\n',
            '\n\n',
            '\t',
            ' ',
            'NOTE',
            'é',
            '⚾',
            '\r',
          ),
          { minLength: 1 },
        )
        .map((parts) => parts.join('')),
    ),
  })
  .map(({ fromMs, length, text }): Cue => ({ fromMs, toMs: fromMs + length, text: tidyText(text) }))
  .filter((cue) => cueSchema.safeParse(cue).success);
const someCues = fc
  .array(aCue, { maxLength: 12 })
  .map((cues) => cues.sort((a, b) => a.fromMs - b.fromMs || b.toMs - a.toMs));

describe('what is written', () => {
  it('is read back as it was, by us and by the reference parser, which finds no error', () => {
    fc.assert(
      fc.property(someCues, (cues) => {
        const text = writeVtt(cues);
        expect(parseVtt(text)).toEqual({ cues, problems: [] });
        const theirs = reference(text);
        expect(theirs.errors).toEqual([]);
        const order = (list: Cue[]) =>
          [...list].sort((a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs || a.text.localeCompare(b.text));
        expect(order(theirs.cues)).toEqual(order(cues));
      }),
      { numRuns: 300 },
    );
  });

  it('begins with the signature, has an empty line before each cue and hours in every time', () => {
    expect(
      writeVtt([
        { fromMs: 0, toMs: 1500, text: 'Watch the front foot.' },
        { fromMs: 3_723_004, toMs: 3_724_000, text: 'a < b & c --> d\nsecond line' },
      ]),
    ).toBe(
      'WEBVTT\n\n00:00:00.000 --> 00:00:01.500\nWatch the front foot.\n\n' +
        '01:02:03.004 --> 01:02:04.000\na &lt; b &amp; c --&gt; d\nsecond line\n',
    );
    expect(writeVtt([])).toBe('WEBVTT\n');
  });
});

describe('files by other hands', () => {
  // The rules are those of https://www.w3.org/TR/webvtt1/ ("WebVTT file parsing" unless another section is named).
  const GOOD = '00:01.000 --> 00:02.000\nhello';
  it.each([
    ['a byte order mark before the signature', `\ufeffWEBVTT\n\n${GOOD}`],
    ['a title after the signature', `WEBVTT - Wren, open side\n\n${GOOD}`],
    ['lines that end in CR LF', `WEBVTT\n\n${GOOD}`.replace(/\n/g, '\r\n')],
    ['lines that end in CR', `WEBVTT\n\n${GOOD}`.replace(/\n/g, '\r')],
    ['an identifier', `WEBVTT\n\nfirst one\n${GOOD}`],
    ['notes', `WEBVTT\n\nNOTE not shown\nnot this either\n\n${GOOD}\n\nNOTE\nthe end`],
    ['a style sheet', `WEBVTT\n\nSTYLE\n::cue { color: red }\n\n${GOOD}`],
    ['settings after the time', 'WEBVTT\n\n00:01.000 --> 00:02.000 line:90% align:start\nhello'],
    ['tabs around the arrow', 'WEBVTT\n\n00:01.000\t-->\t00:02.000\nhello'],
    ['many empty lines', `WEBVTT\n\n\n\n${GOOD}\n\n\n\n`],
    ['tags in the words', 'WEBVTT\n\n00:01.000 --> 00:02.000\n<v Coach>h<i.loud>el</i></v><00:01.500>lo'],
    ['hours of three digits', 'WEBVTT\n\n00:01.000 --> 000:00:02.000\nhello'],
  ])('%s: the same cues as the reference parser', (_, text) => {
    expect(parseVtt(text)).toEqual({ cues: [{ fromMs: 1000, toMs: 2000, text: 'hello' }], problems: [] });
    expect(reference(text).cues).toEqual(parseVtt(text).cues);
  });

  it('writes out references, by name and by number ("WebVTT cue text parsing rules")', () => {
    const text =
      'WEBVTT\n\n00:01.000 --> 00:02.000\n1 &lt; 2 &amp;&amp; 3 &gt; 2&nbsp;!\n\n00:03.000 --> 00:04.000\n&#233;&#xE9;&unheard; &#0;';
    expect(parseVtt(text).cues.map((cue) => cue.text)).toEqual([
      '1 < 2 && 3 > 2\u00a0!',
      'éé&unheard; \ufffd',
    ]);
    expect(reference(text).cues[0]?.text).toBe('1 < 2 && 3 > 2\u00a0!');
  });

  it.each([
    ['no hours of one digit', '0:01.000 --> 0:02.000\nhello', 3, 'cannot be read'],
    ['a comma for the point', '00:00:01,000 --> 00:00:02,000\nhello', 3, 'cannot be read'],
    ['sixty seconds', '00:60.000 --> 01:02.000\nhello', 3, 'cannot be read'],
    ['sixty minutes', '00:60:00.000 --> 01:02:00.000\nhello', 3, 'cannot be read'],
    ['thousandths of four digits', '00:01.0000 --> 00:02.0000\nhello', 3, 'cannot be read'],
    ['no end', '00:01.000 -->\nhello', 3, 'cannot be read'],
    ['an arrow in the words alone', 'first\nhello --> there', 4, 'cannot be read'],
    ['an end before the beginning', '00:02.000 --> 00:01.000\nhello', 3, 'ends before it begins'],
    ['no length', '00:02.000 --> 00:02.000\nhello', 3, 'ends before it begins'],
    ['no words', '00:01.000 --> 00:02.000\n<i></i>', 3, 'no words'],
    ['words without a time', 'hello', 3, 'no time'],
    ['a time past any voice', '100:00:00.000 --> 100:00:01.000\nhello', 3, 'later than any voice'],
  ])('leaves out a caption with %s, names its line, keeps the others', (_, block, line, words) => {
    const { cues, problems } = parseVtt(`WEBVTT\n\n${block}\n\n00:10.000 --> 00:11.000\nkept`);
    expect(cues).toEqual([{ fromMs: 10_000, toMs: 11_000, text: 'kept' }]);
    expect(problems).toEqual([{ line, sentence: expect.stringContaining(words) }]);
  });

  it('begins a new caption at a time without an empty line before it', () => {
    const text = 'WEBVTT\n\n00:01.000 --> 00:02.000\none\n00:03.000 --> 00:04.000\ntwo';
    expect(parseVtt(text).cues.map((cue) => cue.text)).toEqual(['one', 'two']);
    expect(reference(text).cues).toEqual(parseVtt(text).cues);
    const headless = 'WEBVTT\n00:03.000 --> 00:04.000\ntwo';
    expect(parseVtt(headless).cues.map((cue) => cue.text)).toEqual(['two']);
  });

  it('puts captions in order of time and says so', () => {
    const { cues, problems } = parseVtt(
      'WEBVTT\n\n00:03.000 --> 00:04.000\ntwo\n\n00:01.000 --> 00:02.000\none',
    );
    expect(cues.map((cue) => cue.text)).toEqual(['one', 'two']);
    expect(problems).toEqual([{ line: 6, sentence: expect.stringContaining('put in its place') }]);
  });

  it('cuts what is too long or too much, and says so', () => {
    const long = `WEBVTT\n\n00:01.000 --> 00:02.000\n${'a'.repeat(MAX_CUE_CHARS - 1)}⚾⚾`;
    const cut = parseVtt(long);
    expect(cut.cues[0]?.text).toBe(`${'a'.repeat(MAX_CUE_CHARS - 1)}⚾`);
    expect(cut.problems).toHaveLength(1);
    const pairs = parseVtt(`WEBVTT\n\n00:01.000 --> 00:02.000\n${'a'.repeat(MAX_CUE_CHARS - 1)}😀`);
    expect(pairs.cues[0]?.text).toBe('a'.repeat(MAX_CUE_CHARS - 1));
    const many = writeVtt(
      Array.from({ length: MAX_CUES + 1 }, (_, n) => ({ fromMs: n, toMs: n + 1, text: 'a' })),
    );
    expect(parseVtt(many).cues).toHaveLength(MAX_CUES);
    expect(parseVtt(many).problems).toHaveLength(1);
  });

  it.each([
    ['nothing', '', 'invalid'],
    ['another format', '1\n00:00:01,000 --> 00:00:02,000\nhello', 'invalid'],
    ['a signature that goes on', 'WEBVTTX\n\n', 'invalid'],
    ['a page', '<!doctype html><title>Sign in</title>', 'invalid'],
    ['more than can be captions', `WEBVTT\n\n${'a'.repeat(MAX_VTT_CHARS)}`, 'too-large'],
  ])('refuses %s', (_, text, fault) => {
    expect(() => parseVtt(text)).toThrow(expect.objectContaining({ name: 'CagepostError', fault }));
  });

  it('lets nothing out but captions that keep the rules, or a refusal, whatever it is given', () => {
    const piece = fc.constantFrom(
      'WEBVTT',
      '\n',
      '\n\n',
      '-->',
      ' --> ',
      '00:01.000',
      '00:00:09.500',
      'NOTE',
      'STYLE',
      'hi',
      '<b>',
      '&',
      '\0',
      '\r',
      ' ',
      '&#xD800;',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(piece, { maxLength: 40 }).map((parts) => `WEBVTT${parts.join('')}`),
    );
    fc.assert(
      fc.property(text, (raw) => {
        try {
          const { cues } = parseVtt(raw);
          cues.forEach((cue, at) => {
            expect(cueSchema.safeParse(cue).success).toBe(true);
            expect(cue.fromMs).toBeGreaterThanOrEqual(cues[at - 1]?.fromMs ?? 0);
          });
          expect(parseVtt(writeVtt(cues)).cues).toEqual(cues);
        } catch (error) {
          if (!(error instanceof CagepostError)) throw error;
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe('timestamps', () => {
  it('are read as they were written', () => {
    fc.assert(
      fc.property(fc.nat(MAX_CUE_MS), (ms) => {
        expect(readTimestamp(writeTimestamp(ms))).toBe(ms);
      }),
    );
    expect(readTimestamp(' 01:02.345 ')).toBe(62_345);
  });

  it.each(['', '1:02.345', '01:02', '01:02.3', '01:60.000', '60:00.000', '00:01.000 x'])(
    '%s is none',
    (text) => {
      expect(readTimestamp(text)).toBeNull();
    },
  );
});
