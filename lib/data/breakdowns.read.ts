import type { BreakdownFacts, TranscriptHit } from '@/lib/domain/breakdowns/breakdown';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId, LessonId, ThreadId } from '@/lib/domain/shared/ids';
import { breakdownFacts, toBreakdown } from './breakdown-select';
import { db, prisma, type Tx } from './client';
import { olderThan, pageOf, parsePlace, placeWords } from './keyset';
import { breakdownsVisibleTo, threadsVisibleTo } from './visibility';

/** One breakdown that the viewer may see, or null. A removed one is told of, without its files. */
export async function readBreakdown(
  viewer: Viewer,
  id: BreakdownId,
  tx?: Tx,
  now = new Date(),
): Promise<BreakdownFacts | null> {
  const row = await db(tx).breakdown.findFirst({
    where: { AND: [{ id }, breakdownsVisibleTo(viewer)] },
    select: breakdownFacts(viewer),
  });
  return row && toBreakdown(row, viewer, now);
}

/**
 * The breakdowns of a lesson, oldest first: for staff all of them, for the player's side those that were given, and
 * that one was removed. Empty when the lesson is not the viewer's to see.
 */
export async function listBreakdowns(
  viewer: Viewer,
  lessonId: LessonId,
  now = new Date(),
): Promise<BreakdownFacts[]> {
  const rows = await prisma.breakdown.findMany({
    where: { AND: [{ lessonId }, breakdownsVisibleTo(viewer)] },
    select: breakdownFacts(viewer),
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    take: 50,
  });
  return rows.map((row) => toBreakdown(row, viewer, now));
}

/** The captions of a breakdown, with what a list of transcripts goes on after from there. */
export interface Transcript {
  of: Pick<TranscriptHit, 'breakdownId' | 'lessonId' | 'lessonNumber' | 'title'>;
  vtt: string;
  place: string;
}

/**
 * The captions of the breakdowns of a thread that the viewer may see, newest first, for a search through them; `after` is
 * the `next` of the page before, or the place of a transcript. Empty when the thread is not the viewer's to see.
 */
export async function listTranscripts(
  viewer: Viewer,
  threadId: ThreadId,
  { after = null, take = 100 }: { after?: string | null; take?: number } = {},
): Promise<{ rows: Transcript[]; next: string | null }> {
  const found = await prisma.breakdown.findMany({
    where: {
      AND: [
        { lesson: { thread: { AND: [{ id: threadId }, threadsVisibleTo(viewer)] } } },
        { captions: { not: '' }, removedAt: null },
        breakdownsVisibleTo(viewer),
        olderThan('createdAt', parsePlace(after)),
      ],
    },
    select: {
      id: true,
      lessonId: true,
      title: true,
      captions: true,
      createdAt: true,
      lesson: { select: { number: true } },
    },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: take + 1,
  });
  const placeOf = (row: { id: string; createdAt: Date }) => ({ at: row.createdAt, id: row.id });
  const { rows, next } = pageOf(found, take, placeOf);
  return {
    rows: rows.map((row) => ({
      of: {
        breakdownId: row.id as BreakdownId,
        lessonId: row.lessonId as LessonId,
        lessonNumber: row.lesson.number ?? 0,
        title: row.title,
      },
      vtt: row.captions,
      place: placeWords(placeOf(row)),
    })),
    next,
  };
}
