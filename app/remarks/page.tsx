import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { remarkOnPage } from '@/app/_server/breakdowns-on-page';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listRemarks } from '@/lib/data/remarks.read';
import { isStaff } from '@/lib/domain/people/viewer';
import { RemarkShelf } from './_remarks/remark-shelf';

export const metadata: Metadata = { title: 'Remarks' };

/** A coach's own shelf of remarks that are said again and again, written or spoken. */
export default async function RemarksPage({ searchParams }: { searchParams: Promise<PageQuery> }) {
  const viewer = await requireViewer('/remarks');
  if (!isStaff(viewer)) redirect('/lessons');
  const query = await searchParams;
  const [frame, remarks] = await Promise.all([
    pageFrame(viewer),
    listRemarks(viewer, { after: oneOf(query['after']), take: 30 }),
  ]);
  return (
    <>
      <FrameBar frame={frame} isReading />
      <Page>
        <PageHead title="Remarks" over="Only you see this shelf">
          <p>
            What you explain every week, said once. A written one drops into the note of a checklist item or
            into captions, a spoken one into a breakdown. What was dropped in keeps its words when you change
            the remark here.
          </p>
        </PageHead>
        <RemarkShelf
          personId={viewer.personId}
          remarks={remarks.rows.map((remark) => remarkOnPage(viewer, remark, frame.now))}
        />
        <MoreLink page="/remarks" list="after" next={remarks.next} query={query} at="main">
          More remarks
        </MoreLink>
      </Page>
    </>
  );
}
