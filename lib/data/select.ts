import { accountOf } from '@/lib/domain/billing/ledger';
import { checklistSchema, type Checklist } from '@/lib/domain/checkpoints/checklist';
import { CLIP_FAULTS, type ClipFault } from '@/lib/domain/clips/clip';
import { hoursSchema } from '@/lib/domain/desk/hours';
import type {
  ClipFacts,
  LessonDetail,
  PersonRef,
  ProgramFacts,
  ReturnedSheet,
} from '@/lib/domain/lessons/lesson';
import { sheetSchema } from '@/lib/domain/review/sheet';
import type { ClipId, LessonId, PersonId, ProgramId, ThreadId } from '@/lib/domain/shared/ids';
import type { Prisma } from './generated/client';

// Explicit selects and the presenters that turn their rows into domain types: the only way out of this folder.

export const personRef = { id: true, name: true } satisfies Prisma.PersonSelect;

export const programFacts = {
  id: true,
  name: true,
  timeZone: true,
  currency: true,
  promiseHours: true,
  hours: true,
  howToPay: true,
  dueDays: true,
  keptPercent: true,
  moneyTerms: true,
} satisfies Prisma.ProgramSelect;

/** What the folds of money need of each entry. */
export const ledgerFacts = {
  id: true,
  kind: true,
  amountMinor: true,
  takesBackId: true,
} satisfies Prisma.LedgerEntrySelect;

export const clipFacts = {
  id: true,
  position: true,
  view: true,
  state: true,
  progress: true,
  failCode: true,
  width: true,
  height: true,
  frameCount: true,
  fileRate: true,
  captureRate: true,
  rateIsSure: true,
  focal35mm: true,
  isZoomed: true,
  sizeBytes: true,
} satisfies Prisma.ClipSelect;

/** What the sender of a swing said of it. */
export const whatWasSaid = {
  question: true,
  bats: true,
  pitchMode: true,
  pitchZone: true,
  result: true,
  painLevel: true,
  painWhere: true,
} satisfies Prisma.LessonSelect;

/** The same out of a row that holds more. */
export const saidIn = (row: Prisma.LessonGetPayload<{ select: typeof whatWasSaid }>) => ({
  question: row.question,
  bats: row.bats,
  pitchMode: row.pitchMode,
  pitchZone: row.pitchZone,
  result: row.result,
  painLevel: row.painLevel,
  painWhere: row.painWhere,
});

export const lessonDetail = {
  id: true,
  threadId: true,
  number: true,
  state: true,
  ...whatWasSaid,
  priceLabel: true,
  amountMinor: true,
  currency: true,
  submittedAt: true,
  promisedAt: true,
  moves: { select: { fromAt: true, reason: true, at: true }, orderBy: { at: 'desc' }, take: 1 },
  program: { select: programFacts },
  thread: { select: { player: { select: { ...personRef, birthDate: true } } } },
  coach: { select: personRef },
  startedBy: { select: personRef },
  checklist: { select: { items: true } },
  follows: {
    select: {
      id: true,
      number: true,
      submittedAt: true,
      returns: { select: { fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
    },
  },
  followUps: {
    where: { state: { not: 'withdrawn' } },
    select: { id: true, number: true, state: true },
    orderBy: { number: { sort: 'desc', nulls: 'last' } },
  },
  clips: { where: { removedAt: null }, select: clipFacts, orderBy: { position: 'asc' } },
  returns: {
    select: { sheet: true, number: true, at: true, byId: true },
    orderBy: { number: 'desc' },
    take: 1,
  },
  ledger: { select: ledgerFacts, orderBy: { at: 'asc' } },
  events: {
    select: { kind: true, at: true, actorId: true, reason: true },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  },
  views: {
    select: { firstSeenAt: true, lastSeenAt: true, person: { select: personRef } },
    orderBy: { firstSeenAt: 'asc' },
  },
} satisfies Prisma.LessonSelect;

type LessonRow = Prisma.LessonGetPayload<{ select: typeof lessonDetail }>;
type ClipRow = Prisma.ClipGetPayload<{ select: typeof clipFacts }>;

export const toPerson = (row: { id: string; name: string }): PersonRef => ({
  id: row.id as PersonId,
  name: row.name,
});

export const toProgram = (row: Prisma.ProgramGetPayload<{ select: typeof programFacts }>): ProgramFacts => ({
  id: row.id as ProgramId,
  name: row.name,
  timeZone: row.timeZone,
  currency: row.currency,
  promiseHours: row.promiseHours,
  hours: hoursSchema.nullable().parse(row.hours),
  howToPay: row.howToPay,
  policy: { version: 1, dueDays: row.dueDays, keptPercent: row.keptPercent, terms: row.moneyTerms },
});

/** Stored checklists are parsed, never cast. */
export const toChecklist = (items: Prisma.JsonValue): Checklist => checklistSchema.parse(items);

const toFault = (code: string | null): ClipFault | null =>
  CLIP_FAULTS.find((fault) => fault === code) ?? null;

export const toClip = ({ failCode, ...row }: ClipRow): ClipFacts => ({
  ...row,
  id: row.id as ClipId,
  fault: toFault(failCode),
  sizeBytes: Number(row.sizeBytes),
});

export const toBirthDate = (date: Date | null): string | null => date?.toISOString().slice(0, 10) ?? null;

export function toLesson(
  row: LessonRow,
  people: ReadonlyMap<string, PersonRef>,
  maySeeDrafts: boolean,
): LessonDetail {
  const [latest] = row.returns;
  const followUp = row.followUps.find((lesson) => maySeeDrafts || lesson.state !== 'draft');
  const returned: ReturnedSheet | null = latest
    ? {
        sheet: sheetSchema.parse(latest.sheet),
        number: latest.number,
        at: latest.at,
        by: people.get(latest.byId) ?? { id: latest.byId as PersonId, name: 'A former coach' },
      }
    : null;
  return {
    id: row.id as LessonId,
    threadId: row.threadId as ThreadId,
    number: row.number ?? 0,
    state: row.state,
    program: toProgram(row.program),
    player: { ...toPerson(row.thread.player), birthDate: toBirthDate(row.thread.player.birthDate) },
    coach: row.coach && toPerson(row.coach),
    startedBy: toPerson(row.startedBy),
    follows: row.follows && {
      id: row.follows.id as LessonId,
      number: row.follows.number ?? 0,
      submittedAt: row.follows.submittedAt,
      fixFirst: row.follows.returns[0]?.fixFirst ?? null,
    },
    followUp: followUp
      ? { id: followUp.id as LessonId, number: followUp.number ?? 0, state: followUp.state }
      : null,
    ...saidIn(row),
    price:
      row.amountMinor !== null && row.currency
        ? { label: row.priceLabel ?? '', amountMinor: row.amountMinor, currency: row.currency }
        : null,
    submittedAt: row.submittedAt,
    promisedAt: row.promisedAt,
    moved: row.moves[0]
      ? { from: row.moves[0].fromAt, reason: row.moves[0].reason, at: row.moves[0].at }
      : null,
    clips: row.clips.map(toClip),
    checklist: toChecklist(row.checklist.items),
    returned,
    account: accountOf(row.ledger),
    events: row.events.map((event) => ({
      kind: event.kind,
      at: event.at,
      actor: people.get(event.actorId) ?? null,
      reason: event.reason,
    })),
    seen: row.views
      .filter((view) => latest && view.lastSeenAt >= latest.at)
      .map((view) => ({ ...toPerson(view.person), at: view.firstSeenAt })),
  };
}
