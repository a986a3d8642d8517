import {
  keepBreakdownAction,
  removeBreakdownAction,
  startBreakdownAction,
} from '@/app/lessons/breakdown-actions';
import type { Answer } from '@/lib/domain/shared/result';
import type { BreakdownId, LessonId } from '@/lib/domain/shared/ids';
import { PartFailure, troubleOf } from '@/lib/review/record/part-sender';
import type { RecordServer } from '@/lib/review/record/session-state';

const orFail = (answer: Answer<unknown>) => {
  if (!answer.ok) throw new PartFailure(troubleOf([answer.fault]));
};

/** The server as recording on the bench of one lesson needs it. */
export const recordServer = (lessonId: string): RecordServer => ({
  begin: async ({ breakdownId, hasVoice }) => {
    const ids = { breakdownId: breakdownId as BreakdownId, lessonId: lessonId as LessonId };
    orFail(await startBreakdownAction({ ...ids, hasVoice }));
  },
  keep: async ({ breakdownId, recipe, parts }) => {
    const answer = await keepBreakdownAction({
      breakdownId: breakdownId as BreakdownId,
      recipe,
      parts: parts.map((part) => ({ ...part })),
    });
    if (!answer.ok) return { is: 'refused', sentence: answer.message };
    return answer.value.kind === 'missing'
      ? { is: 'missing', missing: answer.value.missing }
      : { is: 'kept' };
  },
  remove: async (breakdownId) => {
    await removeBreakdownAction({ breakdownId: breakdownId as BreakdownId });
  },
});
