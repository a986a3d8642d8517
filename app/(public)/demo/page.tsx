import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import { peopleBehindDemoDoor } from '@/lib/auth/demo-door';
import type { Role } from '@/lib/domain/people/viewer';
import { DemoDoor } from './_door/demo-door';

export const metadata: Metadata = { title: 'Look around' };
export const dynamic = 'force-dynamic';

const GROUPS: readonly { title: string; role: Role; line: string }[] = [
  { title: 'Run the program', role: 'lead', line: 'Sees every thread, people, prices and the ledger' },
  { title: 'Coach', role: 'coach', line: 'Has a desk of lessons to return' },
  { title: 'Player', role: 'player', line: 'Sends swings and reads lessons' },
  { title: 'Parent or guardian', role: 'guardian', line: '' },
];

const guardianLine = (wards: readonly string[]) =>
  wards.length > 0 ? `Stands beside ${wards.join(' and ')}` : 'Not beside a player yet';

/** The door for newcomers: one press to be somebody of the demo academy. Where it does not exist, neither does the page. */
export default async function DemoPage() {
  const people = await peopleBehindDemoDoor();
  if (!people) notFound();
  const taken = new Set<string>();
  const groups = GROUPS.map(({ title, role, line }) => {
    const mine = people.filter((person) => person.roles.includes(role) && !taken.has(person.personId));
    mine.forEach((person) => taken.add(person.personId));
    return {
      title,
      people: mine.map(({ personId, name, wards }) => ({
        id: personId,
        name,
        line: role === 'guardian' ? guardianLine(wards) : line,
      })),
    };
  }).filter((group) => group.people.length > 0);
  return (
    <>
      <TopBar programName="Cagepost" isReading />
      <Page kind="narrow">
        <PageHead title="Look around">
          <p>
            These people and their swings are invented. Whatever you do here stays on this machine. Children
            under 13 have no login: look at their lessons as their parent.
          </p>
        </PageHead>
        {groups.length > 0 ? (
          <DemoDoor groups={groups} />
        ) : (
          <EmptyState title="The demo academy is not here yet">
            <p>It is made at the first start of a new database.</p>
          </EmptyState>
        )}
      </Page>
    </>
  );
}
