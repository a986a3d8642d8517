'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { confirmPracticeSafety } from '@/lib/workflows/confirm-practice-safety';
import { resumePractice } from '@/lib/workflows/resume-practice';
import { sayCleared } from '@/lib/workflows/say-cleared';

const player = z.object({ playerId: anId<PersonId>() });

export const confirmSafetyAction = callAction(
  'lesson.write',
  player.extend({ adult: z.string().max(80, 'Eighty letters at most.') }),
  (viewer, input) => confirmPracticeSafety(ports, viewer, input),
);

export const sayClearedAction = callAction('lesson.write', player, (viewer, input) =>
  sayCleared(ports, viewer, input.playerId),
);

export const resumePracticeAction = callAction('review.write', player, (viewer, input) =>
  resumePractice(ports, viewer, input.playerId),
);
