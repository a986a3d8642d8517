'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { checklistLinesSchema } from '@/lib/domain/checkpoints/versions';
import { saveChecklist } from '@/lib/workflows/save-checklist';

/** Makes a new version of the checklist. */
export const saveChecklistAction = callAction(
  'people.change',
  z.object({ id: z.uuid(), from: z.int().min(0), lines: checklistLinesSchema }),
  (viewer, input) => saveChecklist(ports, viewer, input),
);
