import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { MOST_ROWS } from '@/lib/domain/people/invitation-table';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { InviteTable } from './_table/invite-table';

export const metadata: Metadata = { title: 'Invite many' };

/** For leads: invites many people at once by a table, after a look at every row. */
export default async function InvitationsPage() {
  const viewer = await requireViewer('/people/invitations');
  if (!isLead(viewer)) redirect(isStaff(viewer) ? '/people' : '/lessons');
  const frame = await pageFrame(viewer);
  return (
    <>
      <FrameBar frame={frame} current="people" isReading />
      <Page>
        <PageHead title="Invite many" over={<Link href="/people">People</Link>}>
          <p>
            At most {MOST_ROWS} rows at once. Nothing is sent before you have seen what becomes of each row.
          </p>
        </PageHead>
        <Row label="The columns">
          <dl className="ruled read">
            <div>
              <dt className="over">For everybody</dt>
              <dd>name, email, role: player, guardian or coach.</dd>
            </div>
            <div>
              <dt className="over">A player</dt>
              <dd>
                From 13 on, with the birth date. Under 18 also guardian name and guardian email: the guardian
                is invited as soon as the player has accepted, and nobody can write to the player before a
                guardian stands on the thread.
              </dd>
            </div>
            <div>
              <dt className="over">A guardian</dt>
              <dd>
                child name and child birth date, if you know them. A child who is not here yet is added by the
                guardian, with their consent. Under 13 this is the only way in.
              </dd>
            </div>
          </dl>
          <p className="small soft">Write dates with the year first, like 2012-04-30.</p>
        </Row>
        <Row label="The table">
          <InviteTable />
        </Row>
      </Page>
    </>
  );
}
