'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { MEASURE_NAMES } from '@/lib/domain/measures/names';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { setTarget } from '@/lib/workflows/set-target';

export const setTargetAction = callAction(
  'review.write',
  z.object({
    playerId: anId<PersonId>().nullable(),
    measure: z.enum(MEASURE_NAMES),
    low: z.number('Write a number, or leave the field empty.').nullable(),
    high: z.number('Write a number, or leave the field empty.').nullable(),
  }),
  (viewer, input) => setTarget(ports, viewer, input),
);
