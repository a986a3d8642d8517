import type { System, Viewer } from '@/lib/domain/people/viewer';
import { prisma, type Tx } from './client';

export type { Tx } from './client';

/**
 * Runs the work in one transaction: all of it is kept, or none. Every write of lib/data takes the `tx` it is given.
 * What takes longer than `timeoutMs` is undone.
 */
export const transaction = <T>(
  _who: Viewer | System,
  work: (tx: Tx) => Promise<T>,
  timeoutMs = 15_000,
): Promise<T> =>
  prisma.$transaction((tx) => work(tx as unknown as Tx), { timeout: timeoutMs, maxWait: 10_000 });
