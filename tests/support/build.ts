import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import type { LessonState } from '@/lib/domain/lessons/state';
import { CONSENT_VERSION } from '@/lib/domain/people/safeguarding';
import type { Role } from '@/lib/domain/people/viewer';
import { emptySheet } from '@/lib/domain/review/sheet';
import type {
  ClipId,
  InvitationId,
  LedgerEntryId,
  LessonId,
  PersonId,
  ProgramId,
  ReplyId,
  ThreadId,
} from '@/lib/domain/shared/ids';
import { buildClearances, buildConsent } from './build-care';
import { tokenHash } from '@/lib/data/token-hash';

// Each builder makes one row and whatever it cannot be without; the caller names only what matters. Names and
// addresses are invented. The demo seed uses the same builders.

let made = 0;
const nth = () => (made += 1);
const HOUR = 3_600_000;

type Overrides<T> = Partial<Omit<T, 'id'>> & { id?: string };

/** A program with the default checklist and one price. */
export async function buildProgram(
  overrides: Overrides<Prisma.ProgramUncheckedCreateInput> & {
    price?: { label: string; amountMinor: number };
  } = {},
) {
  const { price = { label: 'One lesson', amountMinor: 4500 }, ...facts } = overrides;
  const currency = facts.currency ?? 'USD';
  const row = await prisma.program.create({
    data: {
      id: uuid(),
      name: `Maple Street Hitting ${nth()}`,
      timeZone: 'America/Chicago',
      promiseHours: 48,
      ...facts,
      currency,
      checklists: { create: { id: uuid(), number: 1, items: DEFAULT_CHECKLIST } },
      prices: { create: { id: uuid(), seriesId: uuid(), currency, ...price } },
    },
    include: { checklists: { select: { id: true } } },
  });
  return { ...row, id: row.id as ProgramId, checklistId: row.checklists[0]!.id };
}
type BuiltProgram = Pick<Awaited<ReturnType<typeof buildProgram>>, 'id' | 'checklistId'>;

/** A person without a place in any program. */
export async function buildPerson(overrides: Overrides<Prisma.PersonUncheckedCreateInput> = {}) {
  const n = nth();
  const row = await prisma.person.create({
    data: { id: uuid(), name: `Robin Sample ${n}`, email: `robin.${n}@example.org`, ...overrides },
  });
  return { ...row, id: row.id as PersonId };
}

/** A person with these roles in the program. */
export async function buildMember(
  program: { id: string },
  roles: readonly Role[],
  overrides: Overrides<Prisma.PersonUncheckedCreateInput> = {},
) {
  const person = await buildPerson(overrides);
  await prisma.membership.createMany({
    data: roles.map((role) => ({ programId: program.id, personId: person.id, role })),
  });
  return person;
}

type StaffFacts = Overrides<Prisma.PersonUncheckedCreateInput> & { isCleared?: boolean };

async function buildStaff(
  program: { id: string },
  roles: readonly Role[],
  { isCleared = true, ...overrides }: StaffFacts,
) {
  const person = await buildMember(program, roles, overrides);
  if (isCleared) await buildClearances(program, person);
  return person;
}

/** A coach whose checks hold, unless it says otherwise. */
export const buildCoach = (program: { id: string }, facts: StaffFacts = {}) =>
  buildStaff(program, ['coach'], facts);

/** A lead who also coaches; the checks hold, unless it says otherwise. */
export const buildLead = (program: { id: string }, facts: StaffFacts = {}) =>
  buildStaff(program, ['coach', 'lead'], facts);

/** The birth date of somebody who turned `age` a hundred days before `on`. */
export const bornAged = (age: number, on = new Date()): Date => {
  const day = new Date(on.getTime() - 100 * 24 * HOUR);
  return new Date(Date.UTC(day.getUTCFullYear() - age, day.getUTCMonth(), Math.min(day.getUTCDate(), 28)));
};

/** A player with a thread. Under 13 there is no e-mail and no password, as in life. */
export async function buildPlayer(
  program: { id: string },
  { age = 24, ...overrides }: Overrides<Prisma.PersonUncheckedCreateInput> & { age?: number } = {},
) {
  const child = age < 13 ? { email: null, passwordHash: null } : {};
  const person = await buildMember(program, ['player'], { birthDate: bornAged(age), ...child, ...overrides });
  const thread = await prisma.thread.create({
    data: { id: uuid(), programId: program.id, playerId: person.id },
  });
  return { ...person, threadId: thread.id as ThreadId };
}

/** A guardian of the given players: verified unless it says otherwise. */
export async function buildGuardian(
  program: { id: string },
  players: readonly { id: string }[],
  {
    isVerified = true,
    pausedAt = null,
    ...overrides
  }: Overrides<Prisma.PersonUncheckedCreateInput> & { isVerified?: boolean; pausedAt?: Date | null } = {},
) {
  const person = await buildMember(program, ['guardian'], overrides);
  await prisma.guardianship.createMany({
    data: players.map((player) => ({
      guardianId: person.id,
      playerId: player.id,
      verifiedAt: isVerified ? new Date() : null,
      consentVersion: CONSENT_VERSION,
      consentMethod: 'program-invitation',
      pausedAt,
    })),
  });
  if (isVerified) for (const player of players) await buildConsent(program, player, person);
  return person;
}

type LessonFacts = Overrides<Omit<Prisma.LessonUncheckedCreateInput, 'state' | 'startedById' | 'coachId'>> & {
  state?: LessonState;
  startedById?: string;
  coachId?: string | null;
};

/** A lesson of the player in any state, with its terms, its first event and, once returned, what was returned. */
export async function buildLesson(
  program: BuiltProgram,
  player: { id: string; threadId: string },
  { state = 'submitted', ...overrides }: LessonFacts = {},
) {
  const isSent = state !== 'draft';
  const isReturned = state === 'returned' || state === 'closed';
  const now = Date.now();
  const last = await prisma.lesson.aggregate({
    where: { threadId: player.threadId },
    _max: { number: true },
  });
  const startedById = overrides.startedById ?? player.id;
  const coachId = overrides.coachId ?? null;
  const row = await prisma.lesson.create({
    data: {
      id: uuid(),
      programId: program.id,
      threadId: player.threadId,
      checklistId: program.checklistId,
      question: 'Am I pulling off the ball?',
      state,
      ...(isSent && {
        number: (last._max.number ?? 0) + 1,
        submittedAt: new Date(now - 2 * HOUR),
        promisedAt: new Date(now + 46 * HOUR),
        promiseHours: 48,
        priceLabel: 'One lesson',
        amountMinor: 4500,
        currency: 'USD',
      }),
      ...(isReturned && { returnedAt: new Date(now - HOUR) }),
      ...overrides,
      startedById,
      events: { create: { id: uuid(), kind: 'created', actorId: startedById } },
    },
  });
  if (isReturned && coachId) {
    await prisma.return.create({
      data: {
        id: uuid(),
        lessonId: row.id,
        number: 1,
        sheet: emptySheet(),
        fixFirst: 'Land with the front knee inside the foot.',
        byId: coachId,
      },
    });
  }
  return { ...row, id: row.id as LessonId };
}

/** A clip of the lesson, ready unless it says otherwise. */
export async function buildClip(
  lesson: { id: string; startedById: string },
  overrides: Overrides<Prisma.ClipUncheckedCreateInput> = {},
) {
  const isReady = (overrides.state ?? 'ready') === 'ready';
  const row = await prisma.clip.create({
    data: {
      id: uuid(),
      lessonId: lesson.id,
      position: 0,
      view: 'open_side',
      state: 'ready',
      uploadedById: lesson.startedById,
      declaredType: 'video/mp4',
      sizeBytes: 1000n,
      ...(isReady && {
        width: 720,
        height: 1280,
        frameCount: 120,
        fileRate: 60,
        captureRate: 60,
        readyAt: new Date(),
      }),
      ...overrides,
    },
  });
  return { ...row, id: row.id as ClipId };
}

export async function buildReply(
  lesson: { id: string; threadId: string },
  author: { id: string },
  overrides: Overrides<Prisma.ReplyUncheckedCreateInput> = {},
) {
  const row = await prisma.reply.create({
    data: {
      id: uuid(),
      lessonId: lesson.id,
      threadId: lesson.threadId,
      authorId: author.id,
      body: 'That felt easier off the tee.',
      ...overrides,
    },
  });
  return { ...row, id: row.id as ReplyId };
}

export async function buildLedgerEntry(
  lesson: { id: string; programId: string; startedById: string },
  actor: { id: string },
  overrides: Overrides<Prisma.LedgerEntryUncheckedCreateInput> = {},
) {
  const row = await prisma.ledgerEntry.create({
    data: {
      id: uuid(),
      programId: lesson.programId,
      payerId: lesson.startedById,
      lessonId: lesson.id,
      kind: 'charge',
      amountMinor: 4500,
      currency: 'USD',
      actorId: actor.id,
      ...overrides,
    },
  });
  return { ...row, id: row.id as LedgerEntryId };
}

/** An open invitation; its `token` is the one in the link. */
export async function buildInvitation(
  program: { id: string },
  createdBy: { id: string },
  overrides: Overrides<Prisma.InvitationUncheckedCreateInput> = {},
) {
  const n = nth();
  const token = `token-${uuid()}`;
  const row = await prisma.invitation.create({
    data: {
      id: uuid(),
      programId: program.id,
      role: 'player',
      email: `invited.${n}@example.org`,
      name: `Invited Sample ${n}`,
      tokenHash: tokenHash(token),
      expiresAt: new Date(Date.now() + 14 * 24 * HOUR),
      createdById: createdBy.id,
      ...overrides,
    },
  });
  return { ...row, id: row.id as InvitationId, token };
}

/** What a coach wants a measure of a player to be; `player` null for the whole program. */
export async function buildMeasureTarget(
  program: { id: string },
  player: { id: string } | null,
  setBy: { id: string },
  overrides: Overrides<Prisma.MeasureTargetUncheckedCreateInput> = {},
) {
  return prisma.measureTarget.create({
    data: {
      id: uuid(),
      programId: program.id,
      playerId: player?.id ?? null,
      measure: 'stride-foot-openness',
      high: 45,
      setById: setBy.id,
      ...overrides,
    },
  });
}
