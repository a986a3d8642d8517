import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import { listClearances } from '@/lib/data/clearances.read';
import { countConcerns } from '@/lib/data/concerns.read';
import { listInvitations } from '@/lib/data/invitations.read';
import { listPeople, type PersonCard } from '@/lib/data/people.read';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isMinor, staffContact } from '@/lib/domain/people/safeguarding';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { OneButton } from '../account/_forms/one-button';
import { pageFrame } from '../_server/page-frame';
import { ports } from '../_server/ports';
import { requireViewer } from '../_server/viewer';
import { confirm, invite, setRole, withdraw } from './actions';
import { Clearances } from './_people/clearances';
import { InvitationList } from './_people/invitation-list';
import { InviteForm } from './_people/invite-form';
import { PersonRow } from './_people/person-row';

export const metadata: Metadata = { title: 'People' };

type Props = { searchParams: Promise<{ guardian?: string }> };

const needsCare = (person: PersonCard, today: Day) =>
  person.roles.includes('player') && staffContact(person, person.guardians, today) !== 'open';

/** Everybody of the program, for staff: who is what, who stands beside whom, who is invited. Those who need care first. */
export default async function PeoplePage({ searchParams }: Props) {
  const viewer = await requireViewer('/people');
  if (!isStaff(viewer)) redirect('/lessons');
  const [{ guardian }, frame] = await Promise.all([searchParams, pageFrame(viewer)]);
  const [people, invitations, clearances, concerns] = await Promise.all([
    listPeople(viewer),
    listInvitations(viewer, frame.now),
    listClearances(viewer),
    countConcerns(viewer),
  ]);
  const today = dayIn(frame.timeZone, frame.now);
  const mayLead = isLead(viewer);
  const minors = people.filter((person) => person.roles.includes('player') && isMinor(person, today));
  const groups = [
    { title: 'Need care', people: people.filter((person) => needsCare(person, today)) },
    {
      title: 'Players',
      people: people.filter((person) => person.roles.includes('player') && !needsCare(person, today)),
    },
    { title: 'Guardians', people: people.filter((person) => person.roles.includes('guardian')) },
    {
      title: 'Staff',
      people: people.filter(({ roles }) => roles.includes('coach') || roles.includes('lead')),
    },
  ].filter((group) => group.people.length > 0);

  const roleButtons = ({ personId, name, roles }: PersonCard) => {
    if (!mayLead || !(roles.includes('coach') || roles.includes('lead'))) return null;
    const has = roles.includes('lead');
    return (
      <OneButton
        action={setRole}
        fields={{ personId, role: 'lead', isOn: has ? 'no' : 'yes' }}
        label={has ? 'Remove as lead' : 'Make a lead'}
        spoken={has ? `Remove ${name} as lead` : `Make ${name} a lead`}
        isSmall
      />
    );
  };

  return (
    <>
      <TopBar
        programName={frame.program.name}
        roles={frame.roles}
        personName={frame.personName}
        unread={frame.unread}
        current="people"
        isReading
      />
      <Page>
        <PageHead title="People">
          {mayLead && (
            <p>
              <Link href="/concerns">
                {concerns === 0
                  ? 'Concerns'
                  : concerns === 1
                    ? '1 open concern'
                    : `${concerns} open concerns`}
              </Link>
            </p>
          )}
        </PageHead>
        {groups.map((group) => (
          <Row key={group.title} label={group.title}>
            <ul className="ruled">
              {group.people.map((person) => (
                <PersonRow
                  key={person.personId}
                  person={person}
                  today={today}
                  confirmButton={
                    mayLead
                      ? (guardianId) => (
                          <OneButton
                            action={confirm}
                            fields={{ guardianId, playerId: person.personId }}
                            label="Confirm"
                            spoken={`Confirm this guardian of ${person.name}`}
                            isSmall
                          />
                        )
                      : null
                  }
                  careLink={mayLead}
                  clearances={
                    group.title === 'Staff' && (mayLead || person.personId === viewer.personId) ? (
                      <Clearances
                        person={person}
                        clearances={clearances.get(person.personId) ?? []}
                        mayChange={mayLead}
                        today={today}
                        freshIds={[ports.ids.uuid(), ports.ids.uuid()]}
                      />
                    ) : null
                  }
                  roleButtons={group.title === 'Staff' ? roleButtons(person) : null}
                />
              ))}
            </ul>
          </Row>
        ))}
        <Row label="Invite" id="invite">
          <div className="stack read">
            <InviteForm
              key={guardian ?? ''}
              isLead={mayLead}
              minors={minors.map(({ personId, name }) => ({ personId, name }))}
              forPlayer={minors.some((minor) => minor.personId === guardian) ? (guardian ?? null) : null}
              invite={invite}
            />
            {mayLead ? (
              <p>
                <Link href="/people/invitations">Invite many at once by a table</Link>
              </p>
            ) : null}
          </div>
        </Row>
        <Row label="Invitations">
          {invitations.length === 0 ? (
            <p>None yet. Invite a player, a guardian or a coach above.</p>
          ) : (
            <InvitationList
              invitations={invitations}
              now={frame.now}
              timeZone={frame.timeZone}
              withdrawButton={({ id, name }) => (
                <OneButton
                  action={withdraw}
                  fields={{ invitationId: id }}
                  label="Take it back"
                  spoken={`Take the invitation for ${name} back`}
                  isSmall
                />
              )}
            />
          )}
        </Row>
      </Page>
    </>
  );
}
