import { tidyText } from './cue';

/** The named references that WebVTT's own syntax lists; any other stays as it is written. */
const NAMED: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  lrm: '\u200e',
  rlm: '\u200f',
  nbsp: '\u00a0',
};

/**
 * The words of a cue's text without tags and with references written out ("WebVTT cue text parsing rules",
 * https://www.w3.org/TR/webvtt1/#cue-text-parsing-rules). A tag that is never closed ends with the text.
 */
export const plainText = (payload: string): string =>
  tidyText(
    payload
      .replace(/<[^>]*(?:>|$)/g, '')
      .replace(/&(?:#x([0-9a-f]{1,6})|#(\d{1,7})|([a-z]+));/gi, (whole, hex, decimal, name) => {
        if (name) return NAMED[name as string] ?? (whole as string);
        const code = hex ? Number.parseInt(hex as string, 16) : Number(decimal);
        const isLetter = code > 0 && code <= 0x10ffff && (code < 0xd800 || code > 0xdfff);
        return isLetter ? String.fromCodePoint(code) : '\ufffd';
      }),
  );

/** Words as a cue's text: what would be a tag, a reference or an arrow is written as a reference. */
export const escapeText = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');
