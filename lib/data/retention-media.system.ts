import { v7 as uuid } from 'uuid';
import type { System } from '@/lib/domain/people/viewer';
import type { RetentionClass } from '@/lib/domain/privacy/retention';
import type { ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import type { Prisma } from './generated/client';
import { heldPlayers, letFilesGo, lockDeletion, stripMedia } from './strip-media';

/** What is due of one class of one program: everything whose days began before `before`, at most about `take`. */
export interface Due {
  programId: ProgramId;
  before: Date;
  now: Date;
  take: number;
}

type Clear = (tx: Tx, due: Due, thread: Prisma.ThreadWhereInput) => Promise<number>;

const AT_ONCE = 20;

/** The classes of clips and breakdowns. */
export const MEDIA_CLASSES = [
  'originals',
  'drafts',
  'withdrawn',
  'takes',
  'films',
  'quiet-players',
  'drill-clips',
] as const satisfies readonly RetentionClass[];
export type MediaClass = (typeof MEDIA_CLASSES)[number];

const CLEAR: Readonly<Record<MediaClass, Clear>> = {
  async originals(tx, { programId, before, now, take }, thread) {
    const clips = await db(tx).clip.findMany({
      where: {
        removedAt: null,
        storageKey: { not: null },
        AND: [
          { OR: [{ lesson: { thread } }, { drill: { programId } }] },
          {
            OR: [
              { state: 'ready', readyAt: { lt: before } },
              { state: 'failed', createdAt: { lt: before } },
            ],
          },
        ],
      },
      select: { id: true, storageKey: true },
      take,
    });
    await db(tx).clip.updateMany({
      where: { id: { in: clips.map((clip) => clip.id) } },
      data: { storageKey: null },
    });
    await letFilesGo(
      tx,
      clips.flatMap((clip) => clip.storageKey ?? []),
      now,
    );
    return clips.length;
  },

  async drafts(tx, { before, now }, thread) {
    const lessons = await db(tx).lesson.findMany({
      where: {
        thread,
        state: 'draft',
        createdAt: { lt: before },
        clips: { none: { createdAt: { gte: before } } },
      },
      select: { id: true, startedById: true },
      take: AT_ONCE,
    });
    const ids = lessons.map((lesson) => lesson.id);
    await stripMedia(tx, { clips: { lessonId: { in: ids } }, breakdowns: null }, now);
    await db(tx).lesson.updateMany({
      where: { id: { in: ids } },
      data: { state: 'withdrawn', question: '', painLevel: null, painWhere: null },
    });
    await db(tx).lessonEvent.createMany({
      data: lessons.map(({ id, startedById }) => ({
        ...{ id: uuid(), lessonId: id, kind: 'withdrawn' as const, actorId: startedById, at: now },
        reason: 'It was not sent in time.',
      })),
    });
    return lessons.length;
  },

  async withdrawn(tx, { before, now }, thread) {
    const lessons = await db(tx).lesson.findMany({
      where: {
        thread,
        state: 'withdrawn',
        events: { some: { kind: 'withdrawn', at: { lt: before } } },
        OR: [{ clips: { some: { removedAt: null } } }, { breakdowns: { some: { removedAt: null } } }],
      },
      select: { id: true },
      take: AT_ONCE,
    });
    const those = { lessonId: { in: lessons.map((lesson) => lesson.id) } };
    await stripMedia(tx, { clips: those, breakdowns: those }, now);
    return lessons.length;
  },

  async takes(tx, { before, now, take }, thread) {
    const breakdowns = await db(tx).breakdown.findMany({
      where: {
        removedAt: null,
        givenAt: null,
        createdAt: { lt: before },
        lesson: { thread, state: { notIn: ['submitted', 'in_review'] } },
      },
      select: { id: true },
      take,
    });
    const those = { id: { in: breakdowns.map((one) => one.id) } };
    return stripMedia(tx, { clips: null, breakdowns: those }, now);
  },

  async films(tx, { before, now, take }, thread) {
    const films = await db(tx).breakdownExport.findMany({
      where: {
        state: 'ready',
        readyAt: { lt: before },
        storageKey: { not: null },
        breakdown: { lesson: { thread } },
      },
      select: { id: true, storageKey: true },
      take,
    });
    await db(tx).breakdownExport.updateMany({
      where: { id: { in: films.map((film) => film.id) } },
      data: { state: 'cancelled', storageKey: null },
    });
    await letFilesGo(
      tx,
      films.flatMap((film) => film.storageKey ?? []),
      now,
    );
    return films.length;
  },

  async 'quiet-players'(tx, { before, now }, thread) {
    const threads = await db(tx).thread.findMany({
      where: {
        AND: [
          thread,
          {
            createdAt: { lt: before },
            replies: { none: { at: { gte: before } } },
            lessons: {
              none: {
                OR: [
                  { createdAt: { gte: before } },
                  { submittedAt: { gte: before } },
                  { returnedAt: { gte: before } },
                  { clips: { some: { createdAt: { gte: before } } } },
                ],
              },
              some: {
                OR: [{ clips: { some: { removedAt: null } } }, { breakdowns: { some: { removedAt: null } } }],
              },
            },
          },
        ],
      },
      select: { id: true },
      take: AT_ONCE,
    });
    const those = { lesson: { threadId: { in: threads.map((one) => one.id) } }, removedAt: null };
    await stripMedia(tx, { clips: those, breakdowns: those }, now);
    return threads.length;
  },

  // A version counts from when it was offered no more, or from when the last player who had it was given something else.
  async 'drill-clips'(tx, { programId, before, now, take }) {
    const clips = await db(tx).clip.findMany({
      where: {
        removedAt: null,
        createdAt: { lt: before },
        drill: { programId },
        shownBy: {
          none: {
            OR: [
              { retiredAt: null },
              { retiredAt: { gte: before } },
              { assignments: { some: { OR: [{ endedAt: null }, { endedAt: { gte: before } }] } } },
            ],
          },
        },
      },
      select: { id: true },
      take,
    });
    await stripMedia(tx, { clips: { id: { in: clips.map((clip) => clip.id) } }, breakdowns: null }, now);
    return clips.length;
  },
};

/**
 * Takes away what is due of one class of clips and breakdowns, and writes down which files have to go. Nothing of a
 * player on whom a legal hold stands. Answers how many there were: call it again until it answers none.
 */
export async function clearMedia(_system: System, tx: Tx, which: MediaClass, due: Due): Promise<number> {
  await lockDeletion(tx, due.programId);
  const held = await heldPlayers(tx, due.programId);
  return CLEAR[which](tx, due, { programId: due.programId, playerId: { notIn: held } });
}
