import type { ConsentTerms } from '@/lib/domain/consents/consent';
import type { Prisma } from './generated/client';

/** The consents to lessons that stand beside a player's guardians, newest first. Of one program, or of all with null. */
export const lessonConsents = (programId: string | null) =>
  ({
    where: { scope: 'lessons', ...(programId ? { programId } : {}) },
    orderBy: { givenAt: 'desc' },
    select: { programId: true, byId: true, expiresAt: true, withdrawnAt: true },
  }) satisfies Prisma.Person$consentsArgs;

/** The latest of these consents that one guardian gave; null without one. */
export const consentOf = (
  consents: readonly (ConsentTerms & { byId: string })[],
  guardianId: string,
): ConsentTerms | null => {
  const latest = consents.find((one) => one.byId === guardianId);
  return latest ? { expiresAt: latest.expiresAt, withdrawnAt: latest.withdrawnAt } : null;
};
