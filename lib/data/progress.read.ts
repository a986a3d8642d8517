import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import type { ClipFacts, PersonRef } from '@/lib/domain/lessons/lesson';
import type { Hand, LessonState, PitchMode } from '@/lib/domain/lessons/state';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { sheetSchema, type Sheet } from '@/lib/domain/review/sheet';
import type { ClipId, LessonId, PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { clipFacts, personRef, toChecklist, toClip, toPerson } from './select';
import { clipsVisibleTo, lessonsVisibleTo } from './visibility';

/** One lesson as comparisons and the player page need it. */
export interface Swing {
  lessonId: LessonId;
  number: number;
  state: LessonState;
  submittedAt: Date;
  player: PersonRef;
  bats: Hand | null;
  pitchMode: PitchMode | null;
  checklist: Checklist;
  /** What was returned last. */
  returned: Sheet | null;
  /** The same; for staff, while they review the lesson, what is written so far. */
  sheet: Sheet | null;
  fixFirst: string | null;
  clips: ClipFacts[]; // ready ones, in the sender's order
}

/** Lessons a page: more are asked for by the number of the last one. */
export const SWINGS_AT_ONCE = 24;

const swing = {
  id: true,
  number: true,
  state: true,
  submittedAt: true,
  bats: true,
  pitchMode: true,
  thread: { select: { player: { select: personRef } } },
  checklist: { select: { items: true } },
  review: { select: { sheet: true } },
  returns: { select: { sheet: true, fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
  clips: {
    where: { removedAt: null, state: 'ready' },
    select: clipFacts,
    orderBy: { position: 'asc' },
  },
} satisfies Prisma.LessonSelect;

function toSwing(row: Prisma.LessonGetPayload<{ select: typeof swing }>, viewer: Viewer): Swing[] {
  if (row.number === null || row.submittedAt === null) return [];
  const [latest] = row.returns;
  const returned = latest ? sheetSchema.parse(latest.sheet) : null;
  const isUnderReview = row.state === 'submitted' || row.state === 'in_review';
  const written = isStaff(viewer) && isUnderReview ? row.review : null;
  return [
    {
      lessonId: row.id as LessonId,
      number: row.number,
      state: row.state,
      submittedAt: row.submittedAt,
      player: toPerson(row.thread.player),
      bats: row.bats,
      pitchMode: row.pitchMode,
      checklist: toChecklist(row.checklist.items),
      returned,
      sheet: written ? sheetSchema.parse(written.sheet) : returned,
      fixFirst: latest?.fixFirst ?? null,
      clips: row.clips.map(toClip),
    },
  ];
}

/**
 * The player's sent lessons with their sheets and ready clips, newest first, at most `SWINGS_AT_ONCE`; `before` asks
 * for those with a smaller number. Empty when the player is not the viewer's to see.
 */
export async function listSwings(
  viewer: Viewer,
  playerId: PersonId,
  { before = null }: { before?: number | null } = {},
): Promise<Swing[]> {
  const rows = await prisma.lesson.findMany({
    where: {
      AND: [
        lessonsVisibleTo(viewer),
        { thread: { playerId }, state: { notIn: ['draft', 'withdrawn'] } },
        { number: before === null ? { not: null } : { lt: before } },
      ],
    },
    select: swing,
    orderBy: { number: 'desc' },
    take: SWINGS_AT_ONCE,
  });
  return rows.flatMap((row) => toSwing(row, viewer));
}

/** The lesson that a clip belongs to, as `listSwings` tells it, or null when the clip is not the viewer's to see. */
export async function readSwing(viewer: Viewer, clipId: ClipId): Promise<Swing | null> {
  const clip = await prisma.clip.findFirst({
    where: { AND: [{ id: clipId }, clipsVisibleTo(viewer)] },
    select: { lesson: { select: swing } },
  });
  return (clip?.lesson && toSwing(clip.lesson, viewer)[0]) ?? null;
}
