import { writeAudit } from '@/lib/data/audit.write';
import { readLesson } from '@/lib/data/lessons.read';
import {
  appendLessonEvent,
  closeFollowed,
  lockLesson,
  saveDraftAnswers,
  sealTerms,
} from '@/lib/data/lessons.write';
import { pausePractice } from '@/lib/data/practice.write';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import { missingForSend, MISSING_WORDS, type Draft } from '@/lib/domain/lessons/intake';
import { promisedBy } from '@/lib/domain/lessons/promise';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ClipId, LessonId, PackId } from '@/lib/domain/shared/ids';
import { chargeLesson } from './charge-lesson';
import type { Ports } from './ports';
import { loadSide, tellPlayersSide, tellStaff } from './thread-side';

/** What the sender gets back: the number in the thread and the promise. */
export interface Sent {
  number: number;
  promisedAt: Date;
}

/**
 * Sends an unsent lesson: keeps the answers, copies price, promise and policy into it, charges it or takes it from the
 * chosen pack, closes the lesson it follows, and tells both sides. Sending the same lesson again answers what the
 * first time did.
 */
export async function submitLesson(
  { clock, queue, storage }: Pick<Ports, 'clock' | 'queue' | 'storage'>,
  viewer: Viewer,
  input: { lessonId: LessonId; draft: Draft; packId?: PackId | null },
): Promise<Sent> {
  const now = clock.now();
  let removed: ClipId[] = [];
  const sent = await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (!lesson.isOwn) throw notFound('lesson');
    if (lesson.state !== 'draft') return alreadySent(viewer, input.lessonId, tx);
    const missing = missingForSend(input.draft);
    if (missing.length > 0) {
      const words = missing.map((what) => MISSING_WORDS[what]).join(' ');
      throw new CagepostError('invalid', `${words} Everything else is kept.`, { missing });
    }
    removed = await saveDraftAnswers(viewer, tx, input.lessonId, input.draft);
    const program = await readProgram(viewer, tx);
    const promisedAt = promisedBy(now, program);
    const number = await sealTerms(viewer, tx, input.lessonId, {
      priceLabel: program.price?.label ?? null,
      amountMinor: program.price?.amountMinor ?? 0,
      currency: program.price?.currency ?? program.currency,
      promiseHours: program.promiseHours,
      promisedAt,
      submittedAt: now,
      policy: program.policy,
    });
    await appendLessonEvent(viewer, tx, input.lessonId, { kind: 'submitted', at: now });
    if (program.price && program.price.amountMinor > 0) {
      await chargeLesson(viewer, tx, {
        lessonId: input.lessonId,
        playerId: lesson.playerId,
        number,
        price: program.price,
        program,
        packId: input.packId ?? null,
        now,
      });
    }
    await closeFollowed(viewer, tx, input.lessonId, now);
    await tellBothSides();
    await writeAudit(viewer, tx, { action: 'lesson.submitted', subject: `lesson:${input.lessonId}` });
    await queue.drainOutbox(tx);
    return { number, promisedAt };

    async function tellBothSides() {
      const side = await loadSide(viewer, lesson.threadId, now, tx);
      const facts = { programName: program.name, playerName: side.player.name, lessonNumber: number };
      const promise = promisedAt.toISOString();
      const path = `/lessons/${input.lessonId}`;
      await tellPlayersSide(viewer, tx, side, now, {
        kind: 'lesson-submitted',
        data: { ...facts, promise, path },
      });
      const toStaff = { kind: 'lesson-submitted', data: { ...facts, promise, path: '/desk' } } as const;
      await tellStaff(viewer, tx, side, now, toStaff, null);
      if ((input.draft.painLevel ?? 0) > 0) {
        await pausePractice(viewer, tx, lesson.playerId, now);
        const pain = { kind: 'pain-reported', data: { ...facts, path } } as const;
        await tellPlayersSide(viewer, tx, side, now, pain);
        await tellStaff(viewer, tx, side, now, pain, null);
      }
    }
  });
  // After the commit, as when a draft is saved.
  for (const id of removed) await storage.remove(`clips/${id}/`);
  return sent;
}

async function alreadySent(
  viewer: Viewer,
  id: LessonId,
  tx: Parameters<typeof readLesson>[2],
): Promise<Sent> {
  const lesson = await readLesson(viewer, id, tx);
  if (!lesson?.promisedAt || lesson.state === 'withdrawn') {
    throw new CagepostError(
      'wrong-state',
      'This lesson was withdrawn. Start a new one; your clips can be sent again.',
    );
  }
  return { number: lesson.number, promisedAt: lesson.promisedAt };
}
