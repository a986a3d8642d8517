import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listComingClips } from '@/lib/data/drill-clips.read';
import { listDrills } from '@/lib/data/drills.read';
import { readChecklist } from '@/lib/data/program.read';
import { isStaff } from '@/lib/domain/people/viewer';
import { DrillEntry } from './_drills/drill-entry';
import { FillButton } from './_drills/fill-button';
import { NewDrill } from './_drills/new-drill';

export const metadata: Metadata = { title: 'Drills' };

/** The program's library of drills: what a coach can give, how it is drawn, and what it helps. */
export default async function DrillsPage({ searchParams }: { searchParams: Promise<PageQuery> }) {
  const viewer = await requireViewer('/program/drills');
  if (!isStaff(viewer)) redirect('/practice');
  const query = await searchParams;
  const after = oneOf(query['after']);
  const [frame, drills, checklist] = await Promise.all([
    pageFrame(viewer),
    listDrills(viewer, { after, take: 30 }),
    readChecklist(viewer),
  ]);
  const coming = await listComingClips(
    viewer,
    drills.rows.map((drill) => drill.seriesId),
  );
  const items = (checklist?.items ?? []).map(({ id, title }) => ({ id, title }));
  return (
    <>
      <FrameBar frame={frame} current="program" isReading />
      <Page>
        <PageHead title="Drills">
          <p>
            <Link href="/program">The program</Link>
          </p>
        </PageHead>
        {drills.rows.length === 0 && !after ? (
          <Row label="Library">
            <EmptyState title="No drills yet">
              <p>Start with six drills for common faults, or write your own.</p>
              <FillButton />
            </EmptyState>
          </Row>
        ) : (
          drills.rows.map((drill) => (
            <Row key={String(drill.id)} label={drill.title}>
              <DrillEntry
                drill={drill}
                items={items}
                coming={coming.find((one) => one.seriesId === drill.seriesId)?.clip ?? null}
                viewerId={viewer.personId}
              />
            </Row>
          ))
        )}
        <MoreLink page="/program/drills" list="after" next={drills.next} query={query} at="main">
          More drills
        </MoreLink>
        <Row label="A new drill">
          <NewDrill items={items} />
        </Row>
      </Page>
    </>
  );
}
