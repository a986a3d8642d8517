import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';

// Builders about legal holds, erasure and copies of everything; see build.ts.

const DAY = 86_400_000;
type Overrides<T> = Partial<Omit<T, 'id'>> & { id?: string };

/** A legal hold on a player, standing unless it says otherwise. */
export const buildHold = (
  program: { id: string },
  player: { id: string },
  by: { id: string },
  overrides: Overrides<Prisma.LegalHoldUncheckedCreateInput> = {},
) =>
  prisma.legalHold.create({
    data: {
      ...{ id: uuid(), programId: program.id, playerId: player.id, byId: by.id },
      reason: 'A letter of a lawyer came.',
      ...overrides,
    },
  });

/** A request to erase a person, thirty days from now unless it says otherwise. */
export const buildErasure = (
  program: { id: string },
  person: { id: string },
  by: { id: string },
  overrides: Overrides<Prisma.ErasureRequestUncheckedCreateInput> = {},
) =>
  prisma.erasureRequest.create({
    data: {
      ...{ id: uuid(), programId: program.id, personId: person.id, byId: by.id },
      dueAt: new Date(Date.now() + 30 * DAY),
      ...overrides,
    },
  });

/** A copy of everything that can be fetched for a day, unless it says otherwise; there is no file. */
export const buildCopy = (
  program: { id: string },
  person: { id: string },
  by: { id: string },
  overrides: Overrides<Prisma.PersonalExportUncheckedCreateInput> = {},
) =>
  prisma.personalExport.create({
    data: {
      ...{ id: uuid(), programId: program.id, personId: person.id, byId: by.id },
      ...{ state: 'ready', parts: 1, sizeBytes: 1000n },
      ...{ readyAt: new Date(), expiresAt: new Date(Date.now() + DAY) },
      ...overrides,
    },
  });
