import { accountOf, type Account } from '@/lib/domain/billing/ledger';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import type { PersonRef, ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { LessonState } from '@/lib/domain/lessons/state';
import type { GuardianshipFacts } from '@/lib/domain/people/safeguarding';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { sheetSchema, type Sheet } from '@/lib/domain/review/sheet';
import type { ClipId, LessonId, PersonId, ThreadId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import type { Prisma } from './generated/client';
import { consentOf, lessonConsents } from './lesson-consents';
import {
  ledgerFacts,
  personRef,
  programFacts,
  toBirthDate,
  toChecklist,
  toPerson,
  toProgram,
} from './select';
import { lessonsVisibleTo, threadsVisibleTo } from './visibility';

/** A lesson as one line of its thread. */
export interface ThreadLesson {
  id: LessonId;
  number: number; // 0 while it is a draft
  state: LessonState;
  followsId: LessonId | null;
  question: string;
  submittedAt: Date | null;
  promisedAt: Date | null;
  returnedAt: Date | null;
  fixFirst: string | null;
  sheet: Sheet | null;
  checklist: Checklist;
  posterClipId: ClipId | null;
  currency: string;
  account: Account;
  replyCount: number;
  unreadCount: number;
}

/** One player's whole line of lessons. */
export interface ThreadDetail {
  id: ThreadId;
  program: ProgramFacts;
  player: PersonRef & { birthDate: string | null };
  guardians: (PersonRef & GuardianshipFacts)[];
  lessons: ThreadLesson[]; // newest first
  /** The newest of the lessons before these, which the next page begins with; null when there is none. */
  earlier: ThreadLesson | null;
}

/** Lessons of a thread on one page: earlier ones are asked for by the number of the last one. */
export const THREAD_AT_ONCE = 24;

/**
 * The thread of a player in the viewer's program with its newest lessons, or those with a number smaller than `before`;
 * null when it is absent or not the viewer's to see.
 */
export async function readThread(
  viewer: Viewer,
  playerId: PersonId,
  { before = null, take = THREAD_AT_ONCE }: { before?: number | null; take?: number } = {},
): Promise<ThreadDetail | null> {
  const row = await prisma.thread.findFirst({
    where: { AND: [{ playerId }, threadsVisibleTo(viewer)] },
    select: {
      id: true,
      program: { select: programFacts },
      player: {
        select: {
          ...personRef,
          birthDate: true,
          guardians: { select: { verifiedAt: true, pausedAt: true, guardian: { select: personRef } } },
          consents: lessonConsents(viewer.programId),
        },
      },
    },
  });
  if (!row) return null;
  const { currency } = row.program;
  const lessons = await prisma.lesson.findMany({
    where: {
      AND: [
        { threadId: row.id, NOT: { state: 'withdrawn', submittedAt: null } },
        before === null ? {} : { number: { lt: before } },
        lessonsVisibleTo(viewer),
      ],
    },
    select: {
      id: true,
      number: true,
      state: true,
      followsId: true,
      question: true,
      createdAt: true,
      submittedAt: true,
      promisedAt: true,
      returnedAt: true,
      currency: true,
      checklist: { select: { items: true } },
      ledger: { select: ledgerFacts },
      returns: { select: { fixFirst: true, sheet: true }, orderBy: { number: 'desc' }, take: 1 },
      clips: {
        where: { removedAt: null, state: 'ready' },
        select: { id: true },
        orderBy: { position: 'asc' },
        take: 1,
      },
      readMarks: { where: { personId: viewer.personId }, select: { readAt: true } },
    },
    // In the order they were sent; what is not sent yet comes on top.
    orderBy: [{ number: { sort: 'desc', nulls: 'first' } }, { createdAt: 'desc' }],
    take: take + 1,
  });
  const [replies, unread] = await Promise.all([
    countByLesson({ lessonId: { in: lessons.map(({ id }) => id) } }),
    countByLesson(unreadOf(viewer, lessons)),
  ]);
  return {
    id: row.id as ThreadId,
    program: toProgram(row.program),
    player: { ...toPerson(row.player), birthDate: toBirthDate(row.player.birthDate) },
    guardians: row.player.guardians.map((g) => ({
      ...toPerson(g.guardian),
      isVerified: g.verifiedAt !== null,
      isPaused: g.pausedAt !== null,
      consent: consentOf(row.player.consents, g.guardian.id),
    })),
    lessons: lessons.slice(0, take).map(toLesson),
    earlier: lessons.slice(take).map(toLesson)[0] ?? null,
  };

  function toLesson(lesson: (typeof lessons)[number]): ThreadLesson {
    const [latest] = lesson.returns;
    return {
      id: lesson.id as LessonId,
      number: lesson.number ?? 0,
      state: lesson.state,
      followsId: lesson.followsId as LessonId | null,
      question: lesson.question,
      submittedAt: lesson.submittedAt,
      promisedAt: lesson.promisedAt,
      returnedAt: lesson.returnedAt,
      fixFirst: latest?.fixFirst ?? null,
      sheet: latest ? sheetSchema.parse(latest.sheet) : null,
      checklist: toChecklist(lesson.checklist.items),
      posterClipId: (lesson.clips[0]?.id ?? null) as ClipId | null,
      currency: lesson.currency ?? currency,
      account: accountOf(lesson.ledger),
      replyCount: replies.get(lesson.id) ?? 0,
      unreadCount: unread.get(lesson.id) ?? 0,
    };
  }
}

// Not by `_count` in the select: that groups the replies of every lesson there is before it joins.
async function countByLesson(where: Prisma.ReplyWhereInput): Promise<ReadonlyMap<string, number>> {
  const counts = await prisma.reply.groupBy({ by: ['lessonId'], where, _count: true });
  return new Map(counts.map((one) => [one.lessonId, one._count]));
}

/** Replies of others that came to a lesson since the viewer last opened it. */
const unreadOf = (
  viewer: Viewer,
  lessons: readonly { id: string; readMarks: { readAt: Date }[] }[],
): Prisma.ReplyWhereInput => ({
  authorId: { not: viewer.personId },
  OR: lessons.map(({ id, readMarks: [mark] }) => ({
    lessonId: id,
    ...(mark ? { at: { gt: mark.readAt } } : {}),
  })),
});

/** The player's side of a thread: who they are, how old, and whether a verified guardian stands on it. Null when not visible. */
export async function readThreadGate(viewer: Viewer, threadId: ThreadId, tx?: Tx) {
  const row = await db(tx).thread.findFirst({
    where: { AND: [{ id: threadId }, threadsVisibleTo(viewer)] },
    select: {
      program: { select: programFacts },
      player: {
        select: {
          ...personRef,
          email: true,
          birthDate: true,
          timeZone: true,
          guardians: {
            select: { verifiedAt: true, pausedAt: true, guardian: { select: { ...personRef, email: true } } },
          },
          consents: lessonConsents(viewer.programId),
        },
      },
    },
  });
  if (!row) return null;
  return {
    program: toProgram(row.program),
    player: {
      ...toPerson(row.player),
      email: row.player.email,
      timeZone: row.player.timeZone,
      birthDate: toBirthDate(row.player.birthDate),
    },
    guardians: row.player.guardians.map(({ guardian, verifiedAt, pausedAt }) => ({
      ...toPerson(guardian),
      email: guardian.email,
      isVerified: verifiedAt !== null,
      isPaused: pausedAt !== null,
      consent: consentOf(row.player.consents, guardian.id),
    })),
  };
}

/** The threads of a player or guardian, with what is new in each. Staff see theirs on the desk and in the list of players. */
export async function listOwnThreads(viewer: Viewer) {
  if (isStaff(viewer) && viewer.wards.length === 0 && !viewer.roles.includes('player')) return [];
  const mine = [...(viewer.roles.includes('player') ? [viewer.personId] : []), ...viewer.wards];
  const rows = await prisma.thread.findMany({
    where: { AND: [{ playerId: { in: mine } }, threadsVisibleTo(viewer)] },
    select: { playerId: true },
    orderBy: { createdAt: 'asc' },
  });
  const threads = await Promise.all(rows.map((row) => readThread(viewer, row.playerId as PersonId)));
  return threads.filter((thread) => thread !== null);
}

/** The viewer's own name, as it stands under what they write. */
export async function readAuthor(viewer: Viewer, tx?: Tx): Promise<PersonRef> {
  return toPerson(
    await db(tx).person.findUniqueOrThrow({ where: { id: viewer.personId }, select: personRef }),
  );
}
