import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { emptyDraft, type Draft } from '@/lib/domain/lessons/intake';
import { emptySheet } from '@/lib/domain/review/sheet';
import { buildClip, buildLedgerEntry, buildLesson, buildReply } from '../../../support/build';
import { action, ALL, FAMILY, STAFF, type OperationRow } from '../row';
import type { Target } from '../world';

// Actions on lessons.

const draftOf = (t: Target) => buildLesson(t.program, t.player, { state: 'draft' });
export const submittedOf = (t: Target) => buildLesson(t.program, t.player, { state: 'submitted' });
export const returnedOf = (t: Target) =>
  buildLesson(t.program, t.player, { state: 'returned', coachId: t.coach.id });

/** A lesson under review by its coach, whose sheet is ready to be returned. */
export const inReviewOf = async (t: Target) => {
  const lesson = await buildLesson(t.program, t.player, { state: 'in_review', coachId: t.coach.id });
  const itemId = DEFAULT_CHECKLIST[0]!.id;
  const sheet = {
    ...emptySheet(),
    answers: [{ itemId, verdict: 'off', note: '', clipId: null, frame: null }],
    fixFirst: { itemId, sentence: 'Stand taller.' },
  };
  await prisma.review.create({ data: { lessonId: lesson.id, sheet, revision: 1, updatedById: t.coach.id } });
  return lesson;
};

const whole = (clipId: string): Draft => ({
  ...emptyDraft(),
  question: 'Am I early?',
  bats: 'right',
  pitchMode: 'tee',
  painLevel: 0,
  clips: [{ id: clipId, view: 'open_side', captureRate: 60, focal35mm: null, isZoomed: null }],
});

const owed = async (t: Target) => {
  const lesson = await returnedOf(t);
  await buildLedgerEntry(lesson, t.lead);
  return lesson;
};

const file = 'action app/lessons/actions.ts';

/** Only the coach who has the lesson goes on with it; a second one hears that it is somebody else's now. */
export const WHO_HAS_IT = { 'its-coach': 'ok', coach: 'wrong-state', lead: 'wrong-state' } as const;

export const LESSON_ROWS: Record<string, OperationRow> = {
  [`${file} startLessonAction`]: action('target', FAMILY, (t) => ({
    lessonId: uuid(),
    playerId: t.player.id,
    followsId: null,
  })),
  [`${file} saveDraftAction`]: action('target', FAMILY, async (t) => ({
    lessonId: (await draftOf(t)).id,
    draft: emptyDraft(),
  })),
  [`${file} submitLessonAction`]: action('target', FAMILY, async (t) => {
    const draft = await draftOf(t);
    return { lessonId: draft.id, draft: whole((await buildClip(draft)).id), packId: null };
  }),
  [`${file} withdrawLessonAction`]: action('target', FAMILY, async (t) => ({
    lessonId: (await submittedOf(t)).id,
    reason: '',
  })),
  [`${file} takeLessonAction`]: action('target', STAFF, async (t) => ({
    lessonId: (await submittedOf(t)).id,
  })),
  [`${file} assignLessonAction`]: action('target', STAFF, async (t) => ({
    lessonId: (await submittedOf(t)).id,
    coachId: t.coach.id,
  })),
  [`${file} returnLessonAction`]: action('target', WHO_HAS_IT, async (t) => ({
    lessonId: (await inReviewOf(t)).id,
    revision: 1,
    withoutCaptions: true,
  })),
  [`${file} reopenLessonAction`]: action('target', STAFF, async (t) => ({
    lessonId: (await returnedOf(t)).id,
    reason: 'The wrong clip',
  })),
  [`${file} closeLessonAction`]: action('target', ALL, async (t) => ({ lessonId: (await returnedOf(t)).id })),
  [`${file} replyAction`]: action('target', ALL, async (t) => ({
    id: uuid(),
    lessonId: (await returnedOf(t)).id,
    body: 'Thanks',
    at: null,
  })),
  // Written by the player: only they change it.
  [`${file} editReplyAction`]: action('target', { self: 'ok', minor: 'ok' }, async (t) => {
    const lesson = await returnedOf(t);
    return { id: (await buildReply(lesson, t.player)).id, lessonId: lesson.id, body: 'Changed' };
  }),
  [`${file} recordEntryAction`]: action('target', STAFF, async (t) => ({
    id: uuid(),
    lessonId: (await owed(t)).id,
    kind: 'payment',
    amountMinor: 100,
    method: 'cash',
    reason: '',
  })),
  [`${file} setCaptureRateAction`]: action('target', ALL, async (t) => ({
    clipId: (await buildClip(await submittedOf(t))).id,
    captureRate: 240,
  })),
  [`${file} retryClipAction`]: action('target', ALL, async (t) => {
    const failed = {
      state: 'failed',
      failCode: 'out-of-time',
      storageKey: `clips/${uuid()}/original`,
    } as const;
    return { clipId: (await buildClip(await submittedOf(t), failed)).id };
  }),
  [`${file} openLessonAction`]: action('target', ALL, async (t) => ({ lessonId: (await returnedOf(t)).id })),
  'action app/lessons/measure-actions.ts setTargetAction': action('target', STAFF, (t) => ({
    playerId: t.player.id,
    measure: 'stride-foot-openness',
    low: null,
    high: 45,
  })),
};
