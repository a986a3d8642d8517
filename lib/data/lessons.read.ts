import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { Draft } from '@/lib/domain/lessons/intake';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { listUsablePacks } from './packs.read';
import {
  clipFacts,
  lessonDetail,
  personRef,
  toBirthDate,
  toClip,
  toLesson,
  toPerson,
  toProgram,
  programFacts,
  whatWasSaid,
} from './select';
import { lessonsVisibleTo, playersVisibleTo } from './visibility';

/** One lesson as its page and the bench show it, or null when it is absent or not the viewer's to see. */
export async function readLesson(viewer: Viewer, id: LessonId, tx?: Tx): Promise<LessonDetail | null> {
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id }, lessonsVisibleTo(viewer)] },
    select: lessonDetail,
  });
  if (!row) return null;
  const ids = [...row.events.map((event) => event.actorId), ...row.returns.map((r) => r.byId)];
  const people = await db(tx).person.findMany({ where: { id: { in: ids } }, select: personRef });
  const names = new Map(people.map((person) => [person.id, toPerson(person)]));
  return toLesson(row, names, !isStaff(viewer));
}

/** The viewer's own unsent lesson with that id, as the sending form holds it, or null. */
export async function readDraft(
  viewer: Viewer,
  id: LessonId,
): Promise<{ playerId: PersonId; followsId: LessonId | null; draft: Draft } | null> {
  const row = await prisma.lesson.findFirst({
    where: { AND: [{ id, state: 'draft' }, lessonsVisibleTo(viewer)] },
    select: {
      ...whatWasSaid,
      followsId: true,
      thread: { select: { playerId: true } },
      clips: { where: { removedAt: null }, select: clipFacts, orderBy: { position: 'asc' } },
    },
  });
  if (!row) return null;
  const { thread, followsId, clips, ...said } = row;
  return {
    playerId: thread.playerId as PersonId,
    followsId: followsId as LessonId | null,
    draft: {
      ...said,
      clips: clips.map(toClip).map(({ id, view, captureRate, focal35mm, isZoomed }) => ({
        id,
        view,
        captureRate,
        focal35mm,
        isZoomed,
      })),
    },
  };
}

/** Ids of the viewer's unsent lessons for a player, newest first: to go on where they left. */
export async function listDrafts(
  viewer: Viewer,
  playerId: PersonId,
): Promise<{ id: LessonId; createdAt: Date }[]> {
  const rows = await prisma.lesson.findMany({
    where: { AND: [{ state: 'draft', thread: { playerId } }, lessonsVisibleTo(viewer)] },
    select: { id: true, createdAt: true },
    orderBy: { createdAt: 'desc' },
    take: 10,
  });
  return rows.map((row) => ({ ...row, id: row.id as LessonId }));
}

/**
 * What the sending form needs before anything is written: the player, the program's price and promise, and the latest
 * returned lesson that this one may follow. Null when the viewer may not see that player.
 */
export async function readSendSetting(viewer: Viewer, playerId: PersonId, now: Date) {
  const player = await prisma.person.findFirst({
    where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] },
    select: { ...personRef, birthDate: true, bats: true },
  });
  if (!player) return null;
  const program = await prisma.program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: {
      ...programFacts,
      prices: { where: { retiredAt: null, kind: 'lesson' }, orderBy: { createdAt: 'desc' }, take: 1 },
    },
  });
  const packs = await listUsablePacks(viewer, playerId, now);
  const follows = await prisma.lesson.findMany({
    where: {
      AND: [lessonsVisibleTo(viewer), { thread: { playerId }, state: { in: ['returned', 'closed'] } }],
    },
    select: {
      id: true,
      number: true,
      submittedAt: true,
      returns: { select: { fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
    },
    orderBy: { number: 'desc' },
    take: 20,
  });
  const [price] = program.prices;
  return {
    player: { ...toPerson(player), birthDate: toBirthDate(player.birthDate), bats: player.bats },
    program: toProgram(program),
    price: price ? { label: price.label, amountMinor: price.amountMinor, currency: price.currency } : null,
    packs,
    canFollow: follows.map((row) => ({
      id: row.id as LessonId,
      number: row.number ?? 0,
      submittedAt: row.submittedAt,
      fixFirst: row.returns[0]?.fixFirst ?? null,
    })),
  };
}
