import { TZDate } from '@date-fns/tz';
import { format } from 'date-fns';
import { CHOICE_WORDS } from '@/lib/domain/consents/consent';
import type { EverythingLesson } from '@/lib/domain/privacy/everything';
import { sheetSchema } from '@/lib/domain/review/sheet';
import { VERDICT_WORD } from '@/lib/domain/lessons/words';

/** "18 June 2026, 9:30 pm" in the program's zone. */
export const whenWords = (at: string, timeZone: string): string =>
  format(new TZDate(new Date(at).getTime(), timeZone), 'd MMMM yyyy, h:mm aaa');

/** A scope of consent as the page of consents names it. */
export const scopeWords = (scope: string): string =>
  scope === 'lessons' ? 'Lessons' : (CHOICE_WORDS[scope as keyof typeof CHOICE_WORDS]?.title ?? scope);

/** A word that is kept with underscores or hyphens, as people read it. */
export const plainWords = (word: string): string => word.replaceAll(/[_-]/g, ' ');

/** What a returned sheet says in words: verdicts with their notes, cues, how much was drawn. */
export function sheetWords(lesson: EverythingLesson, sheet: unknown): string[] {
  const parsed = sheetSchema.safeParse(sheet);
  if (!parsed.success) return [];
  const { answers, cues, marks } = parsed.data;
  const titleOf = (id: string) => lesson.items.find((item) => item.id === id)?.title ?? id;
  return [
    ...answers
      .filter((one) => one.verdict !== null)
      .map(
        (one) =>
          `${titleOf(one.itemId)}: ${one.verdict ? VERDICT_WORD[one.verdict] : ''}${one.note ? `. ${one.note}` : ''}`,
      ),
    ...cues.map((cue) => `Cue: ${cue.text}`),
    ...(marks.length > 0 ? [`${marks.length} ${marks.length === 1 ? 'mark' : 'marks'} on the frames.`] : []),
  ];
}
