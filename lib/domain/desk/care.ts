import type { ConsentTerms } from '../consents/consent';
import { ageOn, type Day } from '../people/age';
import { isMinor, staffContact } from '../people/safeguarding';

/** What the desk knows of a lesson that may need care. */
export interface CareFacts {
  birthDate: string | null;
  guardians: readonly { verifiedAt: Date | null; pausedAt: Date | null; consent: ConsentTerms | null }[];
  painLevel: number | null;
  painWhere: string | null;
  clipsFailed: number;
}

/** The reasons a lesson needs care, in words, most pressing first; empty when none. */
export function careReasons(facts: CareFacts, today: Day): string[] {
  const reasons: string[] = [];
  if ((facts.painLevel ?? 0) > 0) {
    const where = facts.painWhere?.trim();
    reasons.push(`Pain ${facts.painLevel}${where ? `, ${where}` : ''}. Drills wait`);
  }
  const contact = staffContact(
    { birthDate: facts.birthDate as Day | null },
    facts.guardians.map((g) => ({
      isVerified: g.verifiedAt !== null,
      isPaused: g.pausedAt !== null,
      consent: g.consent,
    })),
    today,
  );
  if (contact === 'no-guardian') reasons.push('No guardian yet. Cannot be returned');
  if (contact === 'paused') reasons.push('A guardian has paused contact. Cannot be returned');
  if (contact === 'withdrawn')
    reasons.push('A guardian took back the consent to lessons. Cannot be returned');
  if (contact === 'no-consent') reasons.push('The consent to lessons has run out. Cannot be returned');
  if (facts.clipsFailed > 0)
    reasons.push(facts.clipsFailed === 1 ? 'A clip needs another try' : 'Clips need another try');
  return reasons;
}

/** The age that stands beside a player's name, for minors only; null for adults and unknown birth dates. */
export function shownAge(birthDate: string | null, today: Day): number | null {
  if (birthDate === null || !isMinor({ birthDate: birthDate as Day }, today)) return null;
  return ageOn(birthDate as Day, today);
}
