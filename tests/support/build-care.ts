import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import { consentEnds } from '@/lib/domain/consents/consent';
import { CLEARANCE_KINDS } from '@/lib/domain/people/clearances';
import { CONSENT_VERSION } from '@/lib/domain/people/safeguarding';
import { SHOWN_ACTION } from '@/lib/domain/people/shown';

// Builders about consents, checks, concerns and who saw what; see build.ts.

const HOUR = 3_600_000;

type Overrides<T> = Partial<Omit<T, 'id'>> & { id?: string };

/** A consent of the guardian, to lessons and for a year from now unless it says otherwise. */
export async function buildConsent(
  program: { id: string },
  player: { id: string },
  by: { id: string },
  overrides: Overrides<Prisma.ConsentUncheckedCreateInput> = {},
) {
  const now = new Date();
  return prisma.consent.create({
    data: {
      id: uuid(),
      programId: program.id,
      playerId: player.id,
      byId: by.id,
      scope: 'lessons',
      version: CONSENT_VERSION,
      method: 'program-invitation',
      givenAt: now,
      expiresAt: consentEnds(now),
      ...overrides,
    },
  });
}

/** Both checks of somebody who works with minors, valid unless it says otherwise. */
export async function buildClearances(
  program: { id: string },
  person: { id: string },
  overrides: Overrides<Omit<Prisma.ClearanceUncheckedCreateInput, 'kind'>> = {},
) {
  const day = (offset: number) => new Date(Date.now() + offset * 24 * HOUR);
  await prisma.clearance.createMany({
    data: CLEARANCE_KINDS.map((kind) => ({
      id: uuid(),
      programId: program.id,
      personId: person.id,
      kind,
      issuedOn: day(-100),
      expiresOn: day(300),
      recordedById: person.id,
      ...overrides,
    })),
  });
}

/** Something of a minor that was shown to somebody of the staff. */
export async function buildShown(
  program: { id: string },
  player: { id: string },
  to: { id: string },
  lesson: { id: string },
  overrides: Overrides<Prisma.AuditEntryUncheckedCreateInput> = {},
) {
  return prisma.auditEntry.create({
    data: {
      id: uuid(),
      programId: program.id,
      actorId: to.id,
      action: SHOWN_ACTION,
      subject: `person:${player.id}`,
      data: { what: 'lesson', id: lesson.id },
      ...overrides,
    },
  });
}

/** A concern about the thread of a player, raised without a name and about nobody unless it says otherwise. */
export async function buildConcern(
  program: { id: string },
  player: { threadId: string },
  overrides: Overrides<Prisma.ConcernUncheckedCreateInput> = {},
) {
  return prisma.concern.create({
    data: {
      id: uuid(),
      programId: program.id,
      threadId: player.threadId,
      body: 'A message came at night.',
      ...overrides,
    },
  });
}
