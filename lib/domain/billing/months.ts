import { TZDate } from '@date-fns/tz';

const parse = (text: string): { year: number; month: number } | null => {
  const parts = /^(\d{4})-(\d{2})$/.exec(text);
  const [year, month] = [Number(parts?.[1]), Number(parts?.[2])];
  return parts && month >= 1 && month <= 12 ? { year, month: month - 1 } : null;
};

const startOf = (year: number, month: number, timeZone: string) =>
  new Date(new TZDate(year, month, 1, 0, 0, 0, timeZone).getTime());

/**
 * The instants that some months of a zone's calendar take: `from` on and before `to`. `first` and `last` are both
 * included, written "2026-01"; null when they are no months or the wrong way round.
 */
export function monthSpan(first: string, last: string, timeZone: string): { from: Date; to: Date } | null {
  const [a, b] = [parse(first), parse(last)];
  if (!a || !b) return null;
  const span = { from: startOf(a.year, a.month, timeZone), to: startOf(b.year, b.month + 1, timeZone) };
  return span.from < span.to ? span : null;
}
