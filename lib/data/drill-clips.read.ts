import type { DrillClip } from '@/lib/domain/drills/drill-clip';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import { drillClipFacts, toDrillClip } from './drill-select';
import { drillClipsVisibleTo } from './visibility';

/** A clip on its way into the library, and the drill it is for. */
export interface ComingClip {
  seriesId: string;
  clip: DrillClip;
}

/** Clips that were sent for these drills and are not shown yet, newest first. For staff; empty for anybody else. */
export async function listComingClips(viewer: Viewer, seriesIds: readonly string[]): Promise<ComingClip[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.clip.findMany({
    where: {
      AND: [
        { state: { not: 'ready' }, drill: { seriesId: { in: [...seriesIds] } } },
        drillClipsVisibleTo(viewer),
      ],
    },
    select: { ...drillClipFacts, drill: { select: { seriesId: true } } },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
  });
  return rows.flatMap(({ drill, ...row }) => {
    const clip = toDrillClip(row);
    return clip && drill ? [{ seriesId: drill.seriesId, clip }] : [];
  });
}
