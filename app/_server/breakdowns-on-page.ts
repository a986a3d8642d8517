import type { BreakdownOnPage, RemarkOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import type { BreakdownFacts, RemarkFacts } from '@/lib/domain/breakdowns/breakdown';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { env } from '@/lib/platform/env';
import { signMediaUrl } from '@/lib/platform/uploads/media-url';
import { breakdownUrl } from './breakdown-url';
import { mediaKey } from './clip-url';

/** Breakdowns with addresses that this viewer may fetch them under. */
export const breakdownsOnPage = (
  viewer: Viewer,
  breakdowns: readonly BreakdownFacts[],
  now: Date,
): BreakdownOnPage[] =>
  breakdowns.map((breakdown) => {
    const urlOf = (file: string | null) => file && breakdownUrl(viewer, breakdown.id, file, now);
    return {
      ...breakdown,
      voice: urlOf(breakdown.voiceFile),
      timeline: urlOf(breakdown.timelineFile),
      captionsUrl: breakdown.captions.vtt === '' ? null : `/api/breakdowns/${breakdown.id}/captions.vtt`,
      exports: breakdown.exports.map((one) => ({ ...one, url: urlOf(one.file) })),
      canMakeCaptions: env.CAPTIONS_URL !== undefined && isStaff(viewer) && breakdown.voiceFile !== null,
    };
  });

/** A remark of the viewer's own with the address of its voice. */
export const remarkOnPage = (viewer: Viewer, remark: RemarkFacts, now: Date): RemarkOnPage => ({
  ...remark,
  part:
    remark.isSpoken && remark.isStored
      ? signMediaUrl(mediaKey(), {
          ...{ folder: 'remarks', id: remark.id, file: 'part' },
          ...{ personId: viewer.personId, now },
        })
      : null,
});
