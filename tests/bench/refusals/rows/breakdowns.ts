import { v7 as uuid } from 'uuid';
import { buildClip } from '../../../support/build';
import { buildBreakdown, buildExport, buildRemark } from '../../../support/build-breakdown';
import { action, ALL, ITS_COACH_OR_LEAD, STAFF, type OperationRow } from '../row';
import type { Target } from '../world';
import { inReviewOf, returnedOf, WHO_HAS_IT } from './lessons';

// Actions on breakdowns, their captions and exports, and on a coach's remarks.

const ready = async (t: Target) => buildBreakdown(await inReviewOf(t), t.coach, { state: 'ready' });
const given = async (t: Target) =>
  buildBreakdown(await returnedOf(t), t.coach, { state: 'ready', isGiven: true });
/** Given, and without captions so far. */
const silent = async (t: Target) =>
  buildBreakdown(await returnedOf(t), t.coach, { state: 'ready', givenAt: new Date() });
const remarkOf = (t: Target) => buildRemark(t.program, t.coach);

/** Who takes a breakdown along as a file: staff, and for a minor a guardian. */
const MAY_EXPORT = { self: 'ok', guardian: 'ok', ...STAFF } as const;
const ITS_COACH = { 'its-coach': 'ok' } as const;
const file = 'action app/lessons/breakdown-actions.ts';
const remarks = 'action app/lessons/remark-actions.ts';

export const BREAKDOWN_ROWS: Record<string, OperationRow> = {
  [`${file} startBreakdownAction`]: action('target', WHO_HAS_IT, async (t) => ({
    breakdownId: uuid(),
    lessonId: (await inReviewOf(t)).id,
    hasVoice: true,
  })),
  [`${file} keepBreakdownAction`]: action('target', ITS_COACH_OR_LEAD, async (t) => {
    const lesson = await inReviewOf(t);
    const clip = await buildClip(lesson);
    const { id, segmentId } = await buildBreakdown(lesson, t.coach);
    return {
      breakdownId: id,
      recipe: {
        version: 1,
        clips: [{ clipId: clip.id, frameCount: clip.frameCount }],
        pieces: [{ segmentId, kind: 'voice', fromMs: 0, toMs: 4000 }],
      },
      parts: [{ segmentId, count: 1 }],
    };
  }),
  [`${file} retryBreakdownAction`]: action('target', ITS_COACH_OR_LEAD, async (t) => {
    const { recipe } = await ready(t);
    const failed = { state: 'failed', failCode: 'out-of-time', recipe } as const;
    return { breakdownId: (await buildBreakdown(await inReviewOf(t), t.coach, failed as never)).id };
  }),
  [`${file} reopenBreakdownAction`]: action('target', ITS_COACH_OR_LEAD, async (t) => ({
    breakdownId: (await ready(t)).id,
  })),
  [`${file} removeBreakdownAction`]: action('target', ITS_COACH_OR_LEAD, async (t) => ({
    breakdownId: (await ready(t)).id,
  })),
  [`${file} renameBreakdownAction`]: action('target', ITS_COACH_OR_LEAD, async (t) => ({
    breakdownId: (await ready(t)).id,
    title: 'Early hands',
  })),
  [`${file} giveBreakdownAction`]: action('target', ITS_COACH_OR_LEAD, async (t) => ({
    breakdownId: (await buildBreakdown(await returnedOf(t), t.coach, { state: 'ready' })).id,
    withoutCaptions: true,
  })),
  [`${file} askForCaptionsAction`]: action('target', ALL, async (t) => ({
    breakdownId: (await silent(t)).id,
  })),
  [`${file} makeCaptionsAction`]: action('target', STAFF, async (t) => ({
    breakdownId: (await ready(t)).id,
  })),
  [`${file} saveCaptionsAction`]: action('target', STAFF, async (t) => ({
    breakdownId: (await ready(t)).id,
    baseRevision: 0,
    vtt: 'WEBVTT\n\n00:01.000 --> 00:03.000\nStay tall.\n',
    isReady: true,
  })),
  [`${file} noteExportAction`]: action('target', MAY_EXPORT, async (t) => ({
    breakdownId: (await given(t)).id,
    captions: 'none',
  })),
  [`${file} requestExportAction`]: action('target', MAY_EXPORT, async (t) => ({
    exportId: uuid(),
    breakdownId: (await given(t)).id,
    captions: 'none',
  })),
  // Asked for by a guardian, or by a grown player: only they call it off.
  [`${file} cancelExportAction`]: action('target', { self: 'ok', guardian: 'ok' }, async (t) => ({
    exportId: (await buildExport(await given(t), t.guardian ?? t.player)).id,
  })),
  [`${file} searchTranscriptsAction`]: action(
    'target',
    ALL,
    (t) => ({ threadId: t.player.threadId, words: 'hands' }),
    { refused: 'nothing' },
  ),
  [`${remarks} keepRemarkAction`]: action('target', ITS_COACH, async (t) => ({
    id: uuid(),
    seriesId: (await remarkOf(t)).seriesId,
    title: 'Balance',
    text: 'Stay tall.',
    isSpoken: false,
    durationMs: null,
  })),
  [`${remarks} renameRemarkAction`]: action('target', ITS_COACH, async (t) => ({
    seriesId: (await remarkOf(t)).seriesId,
    title: 'Balance',
  })),
  [`${remarks} removeRemarkAction`]: action('target', ITS_COACH, async (t) => ({
    seriesId: (await remarkOf(t)).seriesId,
  })),
  // One's own shelf: everybody else's is empty.
  [`${remarks} listRemarksAction`]: action(
    'self',
    ITS_COACH,
    async (t) => {
      await remarkOf(t);
      return {};
    },
    { refused: 'nothing' },
  ),
};
