import { answer } from '@/app/_server/api';
import { remarkOnPage } from '@/app/_server/breakdowns-on-page';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { readRemark } from '@/lib/data/remarks.read';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type RemarkId } from '@/lib/domain/shared/ids';
import { systemClock } from '@/lib/platform/clock';

/** One remark of the viewer's own, also a version that is off the shelf, with the address of its voice. */
export const GET = (_request: Request, { params }: { params: Promise<{ remarkId: string }> }) =>
  answer('remark.read', async () => {
    const viewer = await viewerOrRefuse();
    const id = anId<RemarkId>().safeParse((await params).remarkId);
    const remark = id.success ? await readRemark(viewer, id.data) : null;
    if (!remark) throw notFound('remark');
    return remarkOnPage(viewer, remark, systemClock.now());
  });
