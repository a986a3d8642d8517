import type { Metadata } from 'next';
import { pageFrame } from '@/app/_server/page-frame';
import { ports } from '@/app/_server/ports';
import { requireViewer } from '@/app/_server/viewer';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listStaffNames } from '@/lib/data/concerns.read';
import { readPlayer } from '@/lib/data/people.read';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { CallFirst } from '../_concerns/call-first';
import { ConcernForm } from '../_concerns/concern-form';

export const metadata: Metadata = { title: 'Raise a concern' };

/** Anybody of the program says that something is wrong, to leads other than the person it is about. */
export default async function NewConcernPage({
  searchParams,
}: {
  searchParams: Promise<{ player?: string }>;
}) {
  const viewer = await requireViewer('/concerns/new');
  const id = anId<PersonId>().safeParse((await searchParams).player);
  const [frame, staff, player] = await Promise.all([
    pageFrame(viewer),
    listStaffNames(viewer),
    id.success ? readPlayer(viewer, id.data) : null,
  ]);
  return (
    <>
      <FrameBar frame={frame} isReading />
      <Page>
        <PageHead title="Raise a concern" />
        <Row label="Call first">
          <CallFirst />
        </Row>
        <Row label="Tell the leads">
          <ConcernForm
            id={ports.ids.uuid()}
            staff={staff}
            player={player && { id: player.personId, name: player.name }}
          />
        </Row>
      </Page>
    </>
  );
}
