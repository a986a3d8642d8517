import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Moment } from '@/app/_ui/moment';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import {
  listChecklistVersions,
  listRetiredItems,
  readChecklistVersion,
  type ChecklistVersion,
} from '@/lib/data/checklists.read';
import { versionChanges } from '@/lib/domain/checkpoints/versions';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { ChangeChecklist } from './_checklist/change-checklist';
import { ItemList } from './_checklist/item-list';

export const metadata: Metadata = { title: 'Checklist' };

type Props = { searchParams: Promise<{ version?: string | string[]; before?: string | string[] }> };

const A_PAGE = 10;
const numberIn = (text: string | string[] | undefined): number | null =>
  typeof text === 'string' && /^[1-9]\d{0,5}$/.test(text) ? Number(text) : null;

/** The program's checklist: its present version, which a lead changes into the next one, and every earlier one. */
export default async function ChecklistPage({ searchParams }: Props) {
  const viewer = await requireViewer('/program/checklist');
  if (!isStaff(viewer)) redirect('/lessons');
  const asked = await searchParams;
  const [frame, present, history, retired, old] = await Promise.all([
    pageFrame(viewer),
    listChecklistVersions(viewer, { before: null, take: 1 }),
    listChecklistVersions(viewer, { before: numberIn(asked.before), take: A_PAGE + 1 }),
    listRetiredItems(viewer),
    readOld(numberIn(asked.version)),
  ]);
  const newest = present.versions[0];
  const shown = history.versions.slice(0, A_PAGE);
  const next = history.versions.length > A_PAGE ? shown.at(-1)?.number : undefined;
  const time = { now: frame.now, timeZone: frame.timeZone };

  function readOld(number: number | null): Promise<ChecklistVersion | null> {
    return number === null ? Promise.resolve(null) : readChecklistVersion(viewer, number);
  }

  return (
    <>
      <FrameBar frame={frame} current="program" isReading />
      <Page>
        <PageHead title="Checklist" over={<Link href="/program">{frame.program.name}</Link>}>
          <p>What every swing is judged by. No item carries a normal range: no study supports one.</p>
        </PageHead>
        {old ? (
          <Row label={`Version ${old.number}`}>
            <p>
              As it was made <Moment at={old.at} {...time} />
              {old.by ? ` by ${old.by}` : ''}. <Link href="/program/checklist">The present version</Link>
            </p>
            <ItemList items={old.items} />
          </Row>
        ) : !newest ? (
          <Row label="Items">
            <EmptyState title="No checklist yet">
              <p>Lessons cannot be sent before the program has one.</p>
            </EmptyState>
          </Row>
        ) : (
          <Row label={`Version ${newest.number}`}>
            {isLead(viewer) ? (
              <ChangeChecklist newest={newest} retired={retired} />
            ) : (
              <ItemList items={newest.items} />
            )}
          </Row>
        )}
        <Row label="All versions" id="versions">
          <ol className="ruled" reversed start={shown[0]?.number}>
            {shown.map((version, index) => (
              <li key={version.number}>
                <p>
                  <Link href={`/program/checklist?version=${version.number}`}>Version {version.number}</Link>,{' '}
                  <Moment at={version.at} {...time} />
                  {version.by ? ` by ${version.by}` : ''}: {version.items.length} items
                </p>
                <Changes before={history.versions[index + 1]} after={version} />
              </li>
            ))}
          </ol>
          {next === undefined ? null : (
            <p>
              <Link href={`/program/checklist?before=${next}#versions`}>Earlier versions</Link>
            </p>
          )}
        </Row>
      </Page>
    </>
  );
}

const Changes = ({ before, after }: { before: ChecklistVersion | undefined; after: ChecklistVersion }) => {
  if (!before) return <p className="small soft">The one that the program began with.</p>;
  return (
    <ul className="small">
      {versionChanges(before.items, after.items).map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
};
