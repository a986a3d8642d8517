import type { System } from '@/lib/domain/people/viewer';

/** The only maker of a `System` actor; its callers are the worker, the seed and the sign-in. */
export const asSystem = (system: System['system']) => ({ system }) as System;
