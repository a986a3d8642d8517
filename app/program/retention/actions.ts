'use server';

import { formAction } from '@/app/_server/action';
import { deadlinesSchema } from '@/lib/domain/privacy/retention';
import { setDeadlines } from '@/lib/workflows/set-deadlines';

/** A lead sets how long the program keeps things. */
export const keepDeadlines = formAction('people.change', deadlinesSchema, async (viewer, deadlines) => {
  await setDeadlines(viewer, deadlines);
  return { isDone: true };
});
