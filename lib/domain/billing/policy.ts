import * as z from 'zod';
import type { LessonState } from '../lessons/state';
import { accountOf, type LedgerFact } from './ledger';

/** What was agreed about money when something was bought; copied into it, so that a later change does not touch it. */
export const moneyPolicySchema = z.object({
  version: z.literal(1),
  /** A charge is due so many days after it was made. */
  dueDays: z.int().min(0).max(365),
  /** Of the price that stays owed when a lesson is withdrawn after a coach took it; before, nothing does. */
  keptPercent: z.int().min(0).max(100),
  /** The program's own words. */
  terms: z.string().max(2000),
});
export type MoneyPolicy = z.infer<typeof moneyPolicySchema>;

/** What holds where nothing was agreed: lessons from before there was a policy. */
export const PLAIN_POLICY: MoneyPolicy = { version: 1, dueDays: 14, keptPercent: 100, terms: '' };

/** Reads a stored policy; what is absent or does not parse counts as `PLAIN_POLICY`. */
export const toPolicy = (stored: unknown): MoneyPolicy =>
  moneyPolicySchema.safeParse(stored).data ?? PLAIN_POLICY;

const DAY_MS = 86_400_000;

/** When a charge made `at` is due. Whole days of 24 hours: a due day is no appointment. */
export const dueAfter = (at: Date, { dueDays }: Pick<MoneyPolicy, 'dueDays'>): Date =>
  new Date(at.getTime() + dueDays * DAY_MS);

/** What withdrawing a lesson does to its money. All amounts in minor units, none below zero. */
export interface Cancellation {
  /** Still owed and not to be paid any more. */
  waiveMinor: number;
  /** Received and to be given back. */
  giveBackMinor: number;
  /** The pack use whose lesson goes back to the pack. */
  packUseId: string | null;
}

/**
 * The rule of cancellation. Before a coach took the lesson: full refund, or the pack lesson given back. After: the
 * program keeps its share (rounded down to the payer's good) and the rest goes; a lesson from a pack is given back only
 * when the program keeps nothing. Once it was returned nothing changes.
 */
export function cancellationOf(
  facts: readonly LedgerFact[],
  state: LessonState,
  { keptPercent }: Pick<MoneyPolicy, 'keptPercent'>,
): Cancellation {
  const none = { waiveMinor: 0, giveBackMinor: 0, packUseId: null };
  const percent = state === 'submitted' ? 0 : keptPercent;
  if (state !== 'submitted' && state !== 'in_review') return none;
  const account = accountOf(facts);
  const back = new Set(facts.map((fact) => fact.takesBackId));
  const use = facts.find((fact) => fact.kind === 'pack_use' && !back.has(fact.id));
  if (use) return percent === 0 ? { ...none, packUseId: use.id ?? null } : none;
  const kept = Math.floor((account.chargedMinor * percent) / 100);
  const giveBackMinor = Math.max(0, account.receivedMinor - kept);
  const stillKept = Math.max(0, kept - account.receivedMinor);
  return { ...none, waiveMinor: Math.max(0, account.owedMinor - stillKept), giveBackMinor };
}

/** The rule in words, as the payer reads it before sending and on the bill. */
export const cancellationWords = ({ keptPercent }: Pick<MoneyPolicy, 'keptPercent'>): string => {
  const before = 'Withdrawn before a coach takes it, a lesson costs nothing: what was paid is given back.';
  if (keptPercent === 100) return `${before} After that the price stays owed.`;
  if (keptPercent === 0) return `${before} The same holds until it is returned.`;
  return `${before} After that ${keptPercent} % of the price stays owed.`;
};
