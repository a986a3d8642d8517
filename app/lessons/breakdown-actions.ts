'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { EXPORT_CAPTIONS } from '@/lib/domain/breakdowns/breakdown';
import { recipeSchema } from '@/lib/domain/breakdowns/timeline';
import { MAX_VTT_CHARS } from '@/lib/domain/captions/cue';
import { anId, type BreakdownId, type ExportId, type LessonId, type ThreadId } from '@/lib/domain/shared/ids';
import { askForCaptions } from '@/lib/workflows/ask-for-captions';
import { cancelExport } from '@/lib/workflows/cancel-export';
import { giveBreakdown } from '@/lib/workflows/give-breakdown';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { noteExport } from '@/lib/workflows/note-export';
import { removeBreakdown } from '@/lib/workflows/remove-breakdown';
import { renameBreakdown } from '@/lib/workflows/rename-breakdown';
import { reopenBreakdown } from '@/lib/workflows/reopen-breakdown';
import { requestCaptions } from '@/lib/workflows/request-captions';
import { requestExport } from '@/lib/workflows/request-export';
import { retryBreakdown } from '@/lib/workflows/retry-breakdown';
import { saveCaptions } from '@/lib/workflows/save-captions';
import { searchTranscripts } from '@/lib/workflows/search-transcripts';
import { startBreakdown } from '@/lib/workflows/start-breakdown';

const breakdownId = anId<BreakdownId>();
const title = z.string().trim().max(80, 'Keep the title under 80 characters.');
const captions = z.enum(EXPORT_CAPTIONS);
const one = z.object({ breakdownId });
const lessonPages = '/lessons/[lessonId]';

export const startBreakdownAction = callAction(
  'review.write',
  z.object({ breakdownId, lessonId: anId<LessonId>(), title: title.optional(), hasVoice: z.boolean() }),
  (viewer, input) => startBreakdown(ports, viewer, input),
);

export const keepBreakdownAction = callAction(
  'review.write',
  z.object({
    breakdownId,
    recipe: recipeSchema,
    parts: z.array(z.object({ segmentId: z.uuid(), count: z.int().min(1).max(2001) })).max(200),
    title: title.optional(),
  }),
  (viewer, input) => keepBreakdown(ports, viewer, input),
);

export const retryBreakdownAction = callAction('review.write', one, (viewer, input) =>
  retryBreakdown(ports, viewer, input.breakdownId),
);

export const reopenBreakdownAction = callAction('review.write', one, (viewer, input) =>
  reopenBreakdown(viewer, input.breakdownId),
);

export const removeBreakdownAction = callAction('review.write', one, async (viewer, input) => {
  await removeBreakdown(ports, viewer, input.breakdownId);
  revalidatePath(lessonPages, 'page');
});

export const renameBreakdownAction = callAction(
  'review.write',
  z.object({ breakdownId, title }),
  async (viewer, input) => {
    await renameBreakdown(viewer, input);
    revalidatePath(lessonPages, 'page');
  },
);

export const giveBreakdownAction = callAction(
  'desk.write',
  z.object({ breakdownId, withoutCaptions: z.boolean() }),
  async (viewer, input) => {
    const told = await giveBreakdown(ports, viewer, input);
    revalidatePath(lessonPages, 'page');
    return { told: told.map(({ name, at }) => ({ name, at })) };
  },
);

export const askForCaptionsAction = callAction('reply.write', one, (viewer, input) =>
  askForCaptions(ports, viewer, input.breakdownId),
);

export const makeCaptionsAction = callAction('desk.write', one, (viewer, input) =>
  requestCaptions(ports, viewer, input.breakdownId),
);

export const saveCaptionsAction = callAction(
  'review.write',
  z.object({
    breakdownId,
    baseRevision: z.int().nonnegative(),
    vtt: z.string().max(MAX_VTT_CHARS, 'These captions are too long to be kept.'),
    isReady: z.boolean(),
  }),
  (viewer, input) => saveCaptions(viewer, input),
);

export const noteExportAction = callAction(
  'lesson.write',
  z.object({ breakdownId, captions }),
  (viewer, input) => noteExport(ports, viewer, input),
);

export const requestExportAction = callAction(
  'lesson.write',
  z.object({ exportId: anId<ExportId>(), breakdownId, captions }),
  (viewer, input) => requestExport(ports, viewer, input),
);

export const cancelExportAction = callAction(
  'lesson.write',
  z.object({ exportId: anId<ExportId>() }),
  (viewer, input) => cancelExport(viewer, input.exportId),
);

export const searchTranscriptsAction = callAction(
  'clip.play',
  z.object({
    threadId: anId<ThreadId>(),
    words: z.string().trim().max(200, 'Look for fewer words.'),
    after: z.string().max(100).nullable().optional(),
  }),
  (viewer, { after = null, ...input }) => searchTranscripts(viewer, { ...input, after }),
);
