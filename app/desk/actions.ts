'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { deskViewSchema } from '@/lib/domain/desk/desk-query';
import { anId, type LessonId, type PersonId } from '@/lib/domain/shared/ids';
import { keepDeskView } from '@/lib/workflows/keep-desk-view';
import { movePromise } from '@/lib/workflows/move-promise';
import { removeDeskView } from '@/lib/workflows/remove-desk-view';
import { splitLessons } from '@/lib/workflows/split-lessons';

const lessonId = anId<LessonId>();

export const splitLessonsAction = callAction(
  'desk.write',
  z.object({
    givings: z
      .array(z.object({ lessonId, coachId: anId<PersonId>(), hadId: anId<PersonId>().nullable() }))
      .min(1, 'Choose a coach for one lesson at least.')
      .max(50),
    note: z.string().max(500, 'Keep the note under 500 characters.').optional(),
  }),
  async (viewer, input) => {
    const outcome = await splitLessons(ports, viewer, input);
    revalidatePath('/desk');
    return outcome;
  },
);

export const movePromiseAction = callAction(
  'desk.write',
  z.object({
    lessonId,
    local: z.string().max(20),
    reason: z
      .string()
      .trim()
      .min(3, 'Say why it has to be later; the player reads it.')
      .max(300, 'Keep the reason under 300 characters.'),
  }),
  async (viewer, input) => {
    await movePromise(ports, viewer, input);
    revalidatePath('/desk');
  },
);

export const keepDeskViewAction = callAction('desk.write', deskViewSchema, async (viewer, input) => {
  await keepDeskView(viewer, input);
  revalidatePath('/desk');
});

export const removeDeskViewAction = callAction(
  'desk.write',
  z.object({ id: z.uuid() }),
  async (viewer, { id }) => {
    await removeDeskView(viewer, id);
    revalidatePath('/desk');
  },
);
