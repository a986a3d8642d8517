import type { Metadata } from 'next';
import Link from 'next/link';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listNotices } from '@/lib/data/notices.read';
import { anId, type NoticeId } from '@/lib/domain/shared/ids';
import { Line } from './_notices/line';
import { MarkAll } from './_notices/mark-all';

export const metadata: Metadata = { title: 'Notices' };

const unreadWords = (unread: number) => {
  if (unread === 0) return 'All of them are read.';
  return unread > 99 ? 'More than 99 are new.' : unread === 1 ? 'One is new.' : `${unread} are new.`;
};

/** Everything the viewer was told of, newest first. */
export default async function NoticesPage({ searchParams }: { searchParams: Promise<{ after?: string }> }) {
  const viewer = await requireViewer('/notices');
  const cursor = anId<NoticeId>().safeParse((await searchParams).after);
  const frame = await pageFrame(viewer);
  const { rows, next } = await listNotices(viewer, frame.now, cursor.data);
  return (
    <>
      <FrameBar frame={frame} current="notices" isReading />
      <Page>
        <PageHead title="Notices">
          <p className="soft">
            {rows.length > 0 && unreadWords(frame.unread)}{' '}
            <Link href="/notices/choices">Choose which of them come by mail</Link>
          </p>
        </PageHead>
        {rows.length === 0 ? (
          <EmptyState title={cursor.success ? 'Nothing older' : 'No notices yet'}>
            <p>When something happens that you should know of, it stands here.</p>
          </EmptyState>
        ) : (
          <Row label={cursor.success ? 'Older' : 'Newest first'}>
            {frame.unread > 0 && <MarkAll />}
            <ul className="ruled">
              {rows.map((notice) => (
                <Line key={notice.id} notice={notice} now={frame.now} timeZone={frame.timeZone} />
              ))}
            </ul>
            {next && (
              <p>
                <Link className="btn" href={`/notices?after=${next}`}>
                  Older notices
                </Link>
              </p>
            )}
          </Row>
        )}
      </Page>
    </>
  );
}
