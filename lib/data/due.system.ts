import type { PlayersSide } from '@/lib/domain/notices/plan';
import { dateOfDay, dayOfDate, type Day } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import type { Prisma } from './generated/client';
import { AT_ONCE, inTurn, laterThan } from './keyset';
import { personRef, toBirthDate } from './select';
import { type Reached, staffToTell } from './staff-to-tell';

// What time alone makes worth telling. Each is looked up program by program, so that its index carries it.

const sideFacts = {
  ...personRef,
  email: true,
  birthDate: true,
  timeZone: true,
  guardians: { select: { verifiedAt: true, guardian: { select: { ...personRef, email: true } } } },
} satisfies Prisma.PersonSelect;

const toSide = (player: Prisma.PersonGetPayload<{ select: typeof sideFacts }>): PlayersSide => ({
  player: { ...player, birthDate: toBirthDate(player.birthDate) },
  guardians: player.guardians.map(({ guardian, verifiedAt }) => ({
    ...guardian,
    isVerified: verifiedAt !== null,
  })),
});

/** A program as far as telling its people goes. */
export interface TellingProgram {
  id: string;
  name: string;
  timeZone: string;
}

/** Every program. */
export async function listProgramsToTell(_system: System): Promise<TellingProgram[]> {
  return prisma.program.findMany({
    select: { id: true, name: true, timeZone: true },
    orderBy: { id: 'asc' },
  });
}

/** Staff to tell of a lesson: see `listStaffToTell`. */
export async function listStaffDue(
  _system: System,
  tx: Tx,
  programId: string,
  about: { coachId: string | null; isMinors: boolean; today: Day },
): Promise<Reached[]> {
  return staffToTell(tx, programId, about);
}

/** A lesson that is waited for. */
export interface PromisedLesson {
  id: string;
  number: number;
  coachId: string | null;
  submittedAt: Date;
  promisedAt: Date;
  side: PlayersSide;
}

/** The open lessons of a program that are promised after the first instant and up to the second, first due first. */
export async function* listPromises(
  _system: System,
  programId: string,
  { after, until }: { after: Date; until: Date },
): AsyncGenerator<PromisedLesson> {
  const pages = inTurn(
    (place) =>
      prisma.lesson.findMany({
        where: { programId, waitsUntil: { gt: after, lte: until }, ...laterThan('waitsUntil', place) },
        select: {
          id: true,
          number: true,
          coachId: true,
          submittedAt: true,
          promisedAt: true,
          thread: { select: { player: { select: sideFacts } } },
        },
        orderBy: [{ waitsUntil: 'asc' }, { id: 'asc' }],
        take: AT_ONCE,
      }),
    ({ promisedAt, id }) => promisedAt && { at: promisedAt, id },
  );
  for await (const rows of pages)
    for (const { id, number, coachId, submittedAt, promisedAt, thread } of rows)
      if (submittedAt && promisedAt)
        yield { id, number: number ?? 0, coachId, submittedAt, promisedAt, side: toSide(thread.player) };
}

/** A swing that was asked for and has not come. */
export interface OverdueSwing {
  lessonId: string;
  number: number;
  coachId: string | null;
  swingBy: Day;
  side: PlayersSide;
}

/**
 * Swings of a program that were asked for by a day from `from` on and before `before`, and have not come. Nothing is
 * asked of a player whose practice is paused.
 */
export async function* listOverdue(
  _system: System,
  programId: string,
  { from, before }: { from: Day; before: Day },
): AsyncGenerator<OverdueSwing> {
  const pages = inTurn(
    (place) =>
      prisma.assignment.findMany({
        where: {
          programId,
          swingBy: { gte: dateOfDay(from), lt: dateOfDay(before) },
          endedAt: null,
          pausedAt: null,
          swings: { none: { submittedAt: { not: null } } },
          ...laterThan('swingBy', place),
        },
        select: {
          id: true,
          swingBy: true,
          lesson: { select: { id: true, number: true, coachId: true } },
          player: { select: sideFacts },
        },
        orderBy: [{ swingBy: 'asc' }, { id: 'asc' }],
        take: AT_ONCE,
      }),
    ({ swingBy, id }) => swingBy && { at: swingBy, id },
  );
  for await (const rows of pages)
    for (const { swingBy, lesson, player } of rows)
      if (swingBy)
        yield {
          lessonId: lesson.id,
          number: lesson.number ?? 0,
          coachId: lesson.coachId,
          swingBy: dayOfDate(swingBy),
          side: toSide(player),
        };
}

/** Something that is owed, and by whom. */
export interface DuePayment {
  /** Of the balance: "lesson:<id>", "pack:<id>" or "payer:<program>:<person>". */
  subject: string;
  dueAt: Date;
  payer: { id: string; email: string; birthDate: Day | null; isPlayer: boolean; timeZone: string | null };
}

/** What is owed in a program and due after the first instant and up to the second, by people with an address. */
export async function* listPaymentsDue(
  _system: System,
  programId: string,
  { after, until }: { after: Date; until: Date },
): AsyncGenerator<DuePayment> {
  const pages = inTurn(
    (place) =>
      prisma.balance.findMany({
        where: {
          programId,
          dueAt: { gt: after, lte: until },
          owedMinor: { gt: 0 },
          ...laterThan('dueAt', place, 'subject'),
        },
        select: {
          subject: true,
          dueAt: true,
          payer: {
            select: {
              id: true,
              email: true,
              birthDate: true,
              timeZone: true,
              memberships: { where: { role: 'player' }, select: { role: true } },
            },
          },
        },
        orderBy: [{ dueAt: 'asc' }, { subject: 'asc' }],
        take: AT_ONCE,
      }),
    ({ dueAt, subject }) => dueAt && { at: dueAt, id: subject },
  );
  for await (const rows of pages)
    for (const {
      subject,
      dueAt,
      payer: { memberships, birthDate, email, ...payer },
    } of rows)
      if (dueAt && email)
        yield {
          subject,
          dueAt,
          payer: {
            ...payer,
            email,
            birthDate: birthDate && dayOfDate(birthDate),
            isPlayer: memberships.length > 0,
          },
        };
}

/** Whose clip of a sent lesson it is; null for one of a drill and while the lesson is not sent, or withdrawn: its sender has the form open. */
export async function readClipSide(
  _system: System,
  tx: Tx,
  clipId: ClipId,
): Promise<{ program: TellingProgram; lessonId: string; side: PlayersSide } | null> {
  const row = await db(tx).clip.findFirst({
    where: { id: clipId, lesson: { state: { notIn: ['draft', 'withdrawn'] } } },
    select: {
      lesson: {
        select: {
          id: true,
          program: { select: { id: true, name: true, timeZone: true } },
          thread: { select: { player: { select: sideFacts } } },
        },
      },
    },
  });
  const lesson = row?.lesson;
  return lesson ? { program: lesson.program, lessonId: lesson.id, side: toSide(lesson.thread.player) } : null;
}
