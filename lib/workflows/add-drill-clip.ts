import { writeAudit } from '@/lib/data/audit.write';
import { announceDrillClip, type DrillClipInput } from '@/lib/data/drill-clips.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

/**
 * Announces a clip for a drill, with who is in it: that is kept in the audit. Its bytes come by the uploads; when it is
 * ready it is a new version of the drill.
 */
export const addDrillClip = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: DrillClipInput,
): Promise<void> =>
  transaction(viewer, async (tx) => {
    await announceDrillClip(viewer, tx, input, clock.now());
    await writeAudit(viewer, tx, {
      action: 'drill.clip-added',
      subject: `drill:${input.drillId}`,
      data: { clip: input.clipId, shows: input.shows },
    });
  });
