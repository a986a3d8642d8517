import type { Metadata } from 'next';
import Link from 'next/link';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listMailChoices } from '@/lib/data/notices.read';
import { isChoosable, kindsFor, mailFor, NOTICE_KINDS } from '@/lib/domain/notices/notice';
import { ChoicesForm } from '../_notices/choices-form';

export const metadata: Metadata = { title: 'Which notices come by mail' };

/** How the viewer hears of each kind by mail. What keeps somebody from harm cannot be chosen away, and says so. */
export default async function ChoicesPage() {
  const viewer = await requireViewer('/notices/choices');
  const [frame, chosen] = await Promise.all([pageFrame(viewer), listMailChoices(viewer)]);
  const kinds = kindsFor(viewer.roles);
  return (
    <>
      <FrameBar frame={frame} current="notices" isReading />
      <Page>
        <PageHead title="Which notices come by mail">
          <p className="soft">
            Whatever you choose, all of them stand in <Link href="/notices">your list of notices</Link>. For
            players under 18 nothing comes between 8 in the evening and 8 in the morning; it waits.
          </p>
        </PageHead>
        <Row label="You choose">
          <ChoicesForm
            kinds={kinds.filter(isChoosable).map((kind) => ({
              kind,
              title: NOTICE_KINDS[kind].title,
              mail: mailFor(kind, chosen.get(kind)),
            }))}
          />
        </Row>
        <Row label="Always at once">
          <div className="stack read">
            <p>These keep somebody from harm, so they always come by mail and cannot be turned off.</p>
            <ul className="ruled">
              {kinds
                .filter((kind) => !isChoosable(kind))
                .map((kind) => (
                  <li key={kind}>{NOTICE_KINDS[kind].title}</li>
                ))}
            </ul>
          </div>
        </Row>
      </Page>
    </>
  );
}
