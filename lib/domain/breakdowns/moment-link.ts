/**
 * A moment as the fragment of an address: the temporal dimension of Media Fragments URI 1.0 (W3C Recommendation of
 * 25 September 2012, section 4.2.1) in normal play time. `/lessons/ID?b=BREAKDOWN#t=83.5` is 83.5 seconds into it.
 */

const SECONDS = String.raw`(\d+(?:\.\d*)?)`;
const CLOCK = String.raw`(?:(\d+):)?(\d\d?):(\d\d(?:\.\d*)?)`;
const NPT_SECONDS = new RegExp(`^${SECONDS}$`);
const NPT_CLOCK = new RegExp(`^${CLOCK}$`);

/** One time of the `npt` format in milliseconds: "83.5", "1:23.5", "0:01:23"; null when it is none. */
const parseTime = (text: string): number | null => {
  const plain = NPT_SECONDS.exec(text);
  if (plain) return Math.round(Number(plain[1]) * 1000);
  const clock = NPT_CLOCK.exec(text);
  if (!clock) return null;
  const [, hours = '0', minutes = '0', seconds = '0'] = clock;
  if (Number(minutes) > 59 || Number(seconds) >= 60) return null;
  return Math.round(((Number(hours) * 60 + Number(minutes)) * 60 + Number(seconds)) * 1000);
};

/**
 * The start that a fragment names, in milliseconds; null when it names none that is valid. Of several `t` the last
 * valid one counts; an end after the comma is allowed and must lie after the start.
 */
export const momentOfFragment = (fragment: string): number | null => {
  let found: number | null = null;
  for (const pair of fragment.replace(/^#/, '').split('&')) {
    const at = pair.indexOf('=');
    if (at < 0 || decoded(pair.slice(0, at)) !== 't') continue;
    const value = decoded(pair.slice(at + 1)).replace(/^npt:/, '');
    const [from = '', to, ...more] = value.split(',');
    const start = from === '' && to !== undefined ? 0 : parseTime(from);
    const end = to === undefined ? Infinity : parseTime(to);
    if (start !== null && end !== null && end > start && more.length === 0) found = start;
  }
  return found;
};

const decoded = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/** The fragment of a moment, without the sign: "t=83.5". Milliseconds in. */
export const fragmentOfMoment = (ms: number): string => `t=${Math.max(0, Math.round(ms)) / 1000}`;

/** A moment as people say it: "1:23", "12:05". Whole seconds, rounded down. */
export const clockOfMs = (ms: number): string => {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
};

/** A length in words: "48 s", "1 min 48 s", "2 min". */
export const lengthOfMs = (ms: number): string => {
  const seconds = Math.max(1, Math.round(ms / 1000));
  const [minutes, rest] = [Math.floor(seconds / 60), seconds % 60];
  if (minutes === 0) return `${rest} s`;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
};
