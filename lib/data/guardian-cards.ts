import type { ConsentTerms } from '@/lib/domain/consents/consent';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Prisma } from './generated/client';
import { consentOf } from './lesson-consents';

/** Somebody who stands, or is to stand, beside a minor. */
export interface GuardianCard {
  personId: PersonId;
  name: string;
  isVerified: boolean;
  isPaused: boolean;
  /** Their latest consent to lessons here; null without one. */
  consent: ConsentTerms | null;
}

/** The guardians of a person as `toGuardian` reads them. */
export const guardianCards = {
  orderBy: { createdAt: 'asc' },
  select: { verifiedAt: true, pausedAt: true, guardian: { select: { id: true, name: true } } },
} satisfies Prisma.Person$guardiansArgs;

type GuardianRow = { verifiedAt: Date | null; pausedAt: Date | null; guardian: { id: string; name: string } };
type ConsentRow = ConsentTerms & { byId: string };

/** A guardianship as a card, with the latest of these consents that this guardian gave. */
export const toGuardian = (row: GuardianRow, consents: readonly ConsentRow[]): GuardianCard => ({
  consent: consentOf(consents, row.guardian.id),
  personId: row.guardian.id as PersonId,
  name: row.guardian.name,
  isVerified: row.verifiedAt !== null,
  isPaused: row.pausedAt !== null,
});
