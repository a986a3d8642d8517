import type { BreakdownFacts } from '@/lib/domain/breakdowns/breakdown';
import { soundFile } from '@/lib/domain/breakdowns/files';
import type { Viewer } from '@/lib/domain/people/viewer';
import { signMediaUrl } from '@/lib/platform/uploads/media-url';
import { mediaKey } from './clip-url';

/** The number in the names of the files that stand of a breakdown; 0: there are none. */
export const standingTake = (breakdown: BreakdownFacts): number =>
  Number(/^timeline-(\d+)\.json$/.exec(breakdown.timelineFile ?? '')?.[1] ?? 0);

/** The files of a breakdown that this viewer may fetch. */
export const filesOf = (breakdown: BreakdownFacts): string[] =>
  [
    breakdown.voiceFile,
    breakdown.timelineFile,
    ...(breakdown.mayExport
      ? [soundFile(standingTake(breakdown)), ...breakdown.exports.map((one) => one.file)]
      : []),
  ].filter((file) => file !== null);

/** A same-origin address under which this viewer may read that file of a breakdown for some hours. */
export const breakdownUrl = (viewer: Viewer, id: string, file: string, now: Date): string =>
  signMediaUrl(mediaKey(), { folder: 'breakdowns', id, file, personId: viewer.personId, now });
