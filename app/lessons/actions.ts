'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { PAY_METHODS } from '@/lib/domain/billing/methods';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import { draftSchema } from '@/lib/domain/lessons/intake';
import {
  type PackId,
  anId,
  type ClipId,
  type LedgerEntryId,
  type LessonId,
  type PersonId,
  type ReplyId,
} from '@/lib/domain/shared/ids';
import { replySchema } from '@/lib/domain/threads/reply';
import { assignLesson } from '@/lib/workflows/assign-lesson';
import { closeLesson } from '@/lib/workflows/close-lesson';
import { editReply } from '@/lib/workflows/edit-reply';
import { openLesson } from '@/lib/workflows/open-lesson';
import { recordEntry } from '@/lib/workflows/record-entry';
import { reopenLesson } from '@/lib/workflows/reopen-lesson';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { retryClip } from '@/lib/workflows/retry-clip';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { saveDraft } from '@/lib/workflows/save-draft';
import { setCaptureRate } from '@/lib/workflows/set-capture-rate';
import { startLesson } from '@/lib/workflows/start-lesson';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { withdrawLesson } from '@/lib/workflows/withdraw-lesson';

const lessonId = anId<LessonId>();
const reason = z.string().max(500, 'Keep the reason under 500 characters.');

export const startLessonAction = callAction(
  'lesson.write',
  z.object({
    lessonId,
    playerId: anId<PersonId>(),
    followsId: lessonId.nullable(),
    answersId: anId<AssignmentId>().nullish(),
  }),
  startLesson,
);

export const saveDraftAction = callAction(
  'draft.write',
  z.object({ lessonId, draft: draftSchema }),
  (viewer, input) => saveDraft(ports, viewer, input),
);

export const submitLessonAction = callAction(
  'lesson.write',
  z.object({ lessonId, draft: draftSchema, packId: anId<PackId>().nullable() }),
  (viewer, input) => submitLesson(ports, viewer, input),
);

export const withdrawLessonAction = callAction(
  'lesson.write',
  z.object({ lessonId, reason }),
  async (viewer, input) => {
    await withdrawLesson(ports, viewer, input);
    revalidatePath(`/lessons/${input.lessonId}`);
  },
);

export const takeLessonAction = callAction('desk.write', z.object({ lessonId }), async (viewer, input) => {
  await takeLesson(ports, viewer, input.lessonId);
  revalidatePath('/desk');
});

export const assignLessonAction = callAction(
  'desk.write',
  z.object({
    lessonId,
    coachId: anId<PersonId>().nullable(),
    note: z.string().max(500, 'Keep the note under 500 characters.').optional(),
  }),
  async (viewer, input) => {
    await assignLesson(ports, viewer, input);
    revalidatePath('/desk');
  },
);

export const returnLessonAction = callAction(
  'desk.write',
  z.object({ lessonId, revision: z.int().nonnegative(), withoutCaptions: z.boolean().optional() }),
  async (viewer, input) => {
    // Nothing is drawn anew here: the bench would lead away before it could say who is told.
    const told = await returnLesson(ports, viewer, input);
    return { told: told.map(({ name, at }) => ({ name, at })) };
  },
);

export const reopenLessonAction = callAction(
  'desk.write',
  z.object({ lessonId, reason: reason.min(1, 'Write why you reopen it.') }),
  async (viewer, input) => {
    await reopenLesson(ports, viewer, input);
    revalidatePath(`/lessons/${input.lessonId}`);
  },
);

export const closeLessonAction = callAction('desk.write', z.object({ lessonId }), async (viewer, input) => {
  await closeLesson(ports, viewer, input.lessonId);
  revalidatePath(`/lessons/${input.lessonId}`);
});

export const replyAction = callAction('reply.write', replySchema, async (viewer, input) => {
  await replyInThread(ports, viewer, input);
  revalidatePath(`/lessons/${input.lessonId}`);
});

export const editReplyAction = callAction(
  'reply.write',
  replySchema.pick({ body: true, lessonId: true }).extend({ id: anId<ReplyId>() }),
  async (viewer, input) => {
    await editReply(ports, viewer, input);
    revalidatePath(`/lessons/${input.lessonId}`);
  },
);

export const recordEntryAction = callAction(
  'ledger.write',
  z.object({
    id: anId<LedgerEntryId>(),
    lessonId,
    kind: z.enum(['payment', 'waiver', 'refund', 'correction']),
    amountMinor: z.int('Write the amount in whole cents.'),
    method: z.enum(PAY_METHODS).nullable(),
    reason,
  }),
  async (viewer, input) => {
    await recordEntry(ports, viewer, input);
    revalidatePath(`/lessons/${input.lessonId}`);
  },
);

export const setCaptureRateAction = callAction(
  'draft.write',
  z.object({ clipId: anId<ClipId>(), captureRate: z.number().min(1).max(1000) }),
  (viewer, input) => setCaptureRate(viewer, input.clipId, input.captureRate),
);

export const retryClipAction = callAction(
  'draft.write',
  z.object({ clipId: anId<ClipId>() }),
  (viewer, input) => retryClip(ports, viewer, input.clipId),
);

export const openLessonAction = callAction('draft.write', z.object({ lessonId }), (viewer, input) =>
  openLesson(ports, viewer, input.lessonId),
);
