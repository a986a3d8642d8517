import type { LessonState } from '@/lib/domain/lessons/state';

/** One lesson as a column of the book; oldest first. */
export interface LessonColumn {
  lessonId: string;
  number: number;
  /** "12 Jan", in the program's zone. */
  day: string;
  state: LessonState;
  fixFirst: string | null;
}

/** Width of a column in CSS pixels: the charts stand under the table's columns. */
export const COLUMN = 104;
