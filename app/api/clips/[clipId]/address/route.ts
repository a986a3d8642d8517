import { answer } from '@/app/_server/api';
import { clipUrl } from '@/app/_server/clip-url';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { readClip } from '@/lib/data/clips.read';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type ClipId } from '@/lib/domain/shared/ids';
import { systemClock } from '@/lib/platform/clock';

/** A fresh address of a clip's rendition, for a page that has stood open longer than the one it was drawn with lasts. */
export const GET = (_request: Request, { params }: { params: Promise<{ clipId: string }> }) =>
  answer('clip.address', async () => {
    const viewer = await viewerOrRefuse();
    const id = anId<ClipId>().safeParse((await params).clipId);
    const clip = id.success ? await readClip(viewer, id.data) : null;
    if (!clip) throw notFound('clip');
    return { video: clipUrl(viewer, clip.id, 'review.mp4', systemClock.now()) };
  });
