import { RateLimiterPrisma, RateLimiterRes } from 'rate-limiter-flexible';
import { CagepostError } from '@/lib/domain/shared/errors';
import { prisma } from './client';
import { tokenHash } from './token-hash';

const MINUTE = 60;
const HOUR = 60 * MINUTE;

/**
 * Every limit of the site: so many points in so many seconds. What is asked without a session is counted by address
 * of the network and by account; what is done with a session, by person.
 */
export const LIMITS = {
  'auth.password.ip': { points: 30, seconds: 15 * MINUTE },
  'auth.password.account': { points: 10, seconds: 15 * MINUTE },
  'auth.link.ip': { points: 20, seconds: HOUR },
  'auth.link.account': { points: 5, seconds: HOUR },
  'auth.link.open': { points: 30, seconds: 15 * MINUTE },
  'auth.demo': { points: 120, seconds: HOUR },
  'invite.accept': { points: 20, seconds: HOUR },
  'people.invite': { points: 60, seconds: 24 * HOUR },
  'people.invite-table': { points: 10, seconds: 24 * HOUR },
  'people.change': { points: 120, seconds: HOUR },
  'account.change': { points: 20, seconds: HOUR },
  'account.password': { points: 10, seconds: 15 * MINUTE },
  'draft.write': { points: 1500, seconds: HOUR },
  'lesson.write': { points: 120, seconds: HOUR },
  'desk.write': { points: 600, seconds: HOUR },
  'review.write': { points: 3600, seconds: HOUR },
  'reply.write': { points: 60, seconds: HOUR },
  'ledger.write': { points: 120, seconds: HOUR },
  'clip.play': { points: 3000, seconds: HOUR },
  'notices.write': { points: 600, seconds: HOUR },
  'notices.stop': { points: 3000, seconds: HOUR },
  'calendar.read': { points: 6000, seconds: HOUR },
  'document.open': { points: 300, seconds: HOUR },
} as const satisfies Record<string, { points: number; seconds: number }>;
export type LimitName = keyof typeof LIMITS;

const limiters = new Map<LimitName, RateLimiterPrisma>();
const limiterOf = (name: LimitName): RateLimiterPrisma => {
  const known = limiters.get(name);
  if (known) return known;
  const { points, seconds } = LIMITS[name];
  const made = new RateLimiterPrisma({
    storeClient: prisma,
    tableName: 'rateLimit',
    keyPrefix: name,
    points,
    duration: seconds,
    clearExpiredByTimeout: limiters.size === 0, // one sweeper a process is enough
  });
  limiters.set(name, made);
  return made;
};

const waitingTime = (milliseconds: number): string => {
  const minutes = Math.ceil(milliseconds / 60_000);
  if (minutes <= 1) return 'a minute';
  return minutes <= 90 ? `${minutes} minutes` : `${Math.ceil(minutes / 60)} hours`;
};

/**
 * Takes one point from the limit for this key (an address, an account, a person: kept as a hash only). Throws
 * `too-many` with the waiting time in words when none is left.
 */
export async function spend(name: LimitName, key: string): Promise<void> {
  try {
    await limiterOf(name).consume(tokenHash(key));
  } catch (refused) {
    if (!(refused instanceof RateLimiterRes)) throw refused;
    throw new CagepostError(
      'too-many',
      `That was tried too often. Nothing is lost. Please wait ${waitingTime(refused.msBeforeNext)} and try again.`,
      { limit: name },
    );
  }
}

/** Gives all points of the key back: after a right password, say. */
export async function forgive(name: LimitName, key: string): Promise<void> {
  await limiterOf(name).delete(tokenHash(key));
}
