const TIMESTAMP = /^(?:(\d{2,}):)?(\d{2}):(\d{2})\.(\d{3})$/;
const LENIENT = /^(?:(\d+):)?(\d{2}):(\d{2})\.(\d{3})/;

/** Milliseconds as a WebVTT timestamp, always with hours: `00:01:02.345`. https://www.w3.org/TR/webvtt1/#webvtt-timestamp */
export const writeTimestamp = (ms: number): string => {
  const two = (value: number) => String(Math.floor(value)).padStart(2, '0');
  return `${two(ms / 3_600_000)}:${two((ms / 60_000) % 60)}:${two((ms / 1000) % 60)}.${String(ms % 1000).padStart(3, '0')}`;
};

const value = ([, hours = '0', minutes, seconds, thousandths]: RegExpExecArray): number | null =>
  Number(minutes) > 59 || Number(seconds) > 59
    ? null
    : Number(hours) * 3_600_000 + Number(minutes) * 60_000 + Number(seconds) * 1000 + Number(thousandths);

/** A whole string as a WebVTT timestamp in milliseconds; null when it is none. For what people type in. */
export const readTimestamp = (text: string): number | null => {
  const match = TIMESTAMP.exec(text.trim());
  return match && value(match);
};

/**
 * The timestamp at the beginning of `text` and what follows it, by the parser's rules (hours of any number of digits);
 * null when there is none. https://www.w3.org/TR/webvtt1/#collect-a-webvtt-timestamp
 */
export const collectTimestamp = (text: string): { ms: number; rest: string } | null => {
  const match = LENIENT.exec(text);
  const ms = match && value(match);
  // A fourth digit, and the three were no thousandths.
  if (!match || ms === null || /^\d/.test(text.slice(match[0].length))) return null;
  return { ms, rest: text.slice(match[0].length) };
};
