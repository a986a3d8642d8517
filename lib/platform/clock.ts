import type { Clock } from '@/lib/workflows/ports';

/** The clock of the machine. */
export const systemClock: Clock = { now: () => new Date() };
