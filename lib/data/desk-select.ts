import { accountOf, type Account } from '@/lib/domain/billing/ledger';
import type { ConsentTerms } from '@/lib/domain/consents/consent';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { LessonState } from '@/lib/domain/lessons/state';
import type { ClipId, LessonId, PersonId } from '@/lib/domain/shared/ids';
import type { Prisma } from './generated/client';
import { consentOf, lessonConsents } from './lesson-consents';
import { ledgerFacts, personRef, toBirthDate, toPerson } from './select';

/** One row of the desk. */
export interface DeskRow {
  id: LessonId;
  number: number;
  state: LessonState;
  player: PersonRef & { birthDate: string | null };
  guardians: { verifiedAt: Date | null; pausedAt: Date | null; consent: ConsentTerms | null }[];
  coach: PersonRef | null;
  question: string;
  painLevel: number | null;
  painWhere: string | null;
  submittedAt: Date | null;
  promisedAt: Date | null;
  returnedAt: Date | null;
  follows: { number: number; submittedAt: Date | null; fixFirst: string | null } | null;
  posterClipId: ClipId | null;
  clipsReady: number;
  clipsFailed: number;
  clipCount: number;
  currency: string;
  account: Account;
  isSeen: boolean;
  /** What was written to the coach who has it, when it was last handed over; null without a note. */
  note: { words: string; by: PersonRef } | null;
}

/** What one row of the desk is made of. */
export const deskSelect = (programId: string) =>
  ({
    id: true,
    number: true,
    state: true,
    question: true,
    painLevel: true,
    painWhere: true,
    submittedAt: true,
    promisedAt: true,
    returnedAt: true,
    currency: true,
    coach: { select: personRef },
    program: { select: { currency: true } },
    thread: {
      select: {
        player: {
          select: {
            ...personRef,
            birthDate: true,
            guardians: { select: { guardianId: true, verifiedAt: true, pausedAt: true } },
            consents: lessonConsents(programId),
          },
        },
      },
    },
    follows: {
      select: {
        number: true,
        submittedAt: true,
        returns: { select: { fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
      },
    },
    clips: { where: { removedAt: null }, select: { id: true, state: true }, orderBy: { position: 'asc' } },
    ledger: { select: ledgerFacts },
    views: { select: { lastSeenAt: true } },
    handOvers: { select: { note: true, byId: true, toId: true }, orderBy: { at: 'desc' }, take: 1 },
  }) satisfies Prisma.LessonSelect;

type Row = Prisma.LessonGetPayload<{ select: ReturnType<typeof deskSelect> }>;

/** One row as the desk shows it; `people` are those who wrote notes. */
export function toDeskRow(row: Row, people: ReadonlyMap<string, PersonRef>): DeskRow {
  const [given] = row.handOvers;
  return {
    id: row.id as LessonId,
    number: row.number ?? 0,
    state: row.state,
    player: { ...toPerson(row.thread.player), birthDate: toBirthDate(row.thread.player.birthDate) },
    guardians: row.thread.player.guardians.map(({ guardianId, ...one }) => ({
      ...one,
      consent: consentOf(row.thread.player.consents, guardianId),
    })),
    coach: row.coach && toPerson(row.coach),
    question: row.question,
    painLevel: row.painLevel,
    painWhere: row.painWhere,
    submittedAt: row.submittedAt,
    promisedAt: row.promisedAt,
    returnedAt: row.returnedAt,
    follows: row.follows && {
      number: row.follows.number ?? 0,
      submittedAt: row.follows.submittedAt,
      fixFirst: row.follows.returns[0]?.fixFirst ?? null,
    },
    posterClipId: (row.clips.find((clip) => clip.state === 'ready')?.id ?? null) as ClipId | null,
    clipsReady: row.clips.filter((clip) => clip.state === 'ready').length,
    clipsFailed: row.clips.filter((clip) => clip.state === 'failed').length,
    clipCount: row.clips.length,
    currency: row.currency ?? row.program.currency,
    account: accountOf(row.ledger),
    isSeen: row.views.some((view) => row.returnedAt !== null && view.lastSeenAt >= row.returnedAt),
    note:
      given?.note && given.toId === row.coach?.id
        ? {
            words: given.note,
            by: people.get(given.byId) ?? { id: given.byId as PersonId, name: 'A former coach' },
          }
        : null,
  };
}
