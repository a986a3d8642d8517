import type { Metadata } from 'next';
import Link from 'next/link';
import Form from 'next/form';
import { redirect } from 'next/navigation';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listClearances } from '@/lib/data/clearances.read';
import { countConcerns } from '@/lib/data/concerns.read';
import { listInvitations } from '@/lib/data/invitations.read';
import { readPlayer } from '@/lib/data/people.read';
import { findPeople, listNeedingCare, listPeople, type PersonCard } from '@/lib/data/people-lists.read';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isMinor, staffContact } from '@/lib/domain/people/safeguarding';
import { isLead, isStaff } from '@/lib/domain/people/viewer';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
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

type Props = { searchParams: Promise<PageQuery> };

const personIn = (value: string | string[] | undefined) => anId<PersonId>().safeParse(value).data ?? null;

const needsCare = (person: PersonCard, today: Day) =>
  person.roles.includes('player') && staffContact(person, person.guardians, today) !== 'open';

const isOfStaff = (group: { list: string }, { roles }: PersonCard) =>
  (group.list === 'staff' || group.list === 'found') && (roles.includes('coach') || roles.includes('lead'));

const MORE_WORDS: Record<string, string> = {
  care: 'More who need care',
  players: 'More players',
  guardians: 'More guardians',
  staff: 'More of the staff',
};

/** Everybody of the program, for staff: who is what, who stands beside whom, who is invited. Those who need care first. */
export default async function PeoplePage({ searchParams }: Props) {
  const viewer = await requireViewer('/people');
  if (!isStaff(viewer)) redirect('/lessons');
  const [query, frame] = await Promise.all([searchParams, pageFrame(viewer)]);
  const today = dayIn(frame.timeZone, frame.now);
  const find = oneOf(query['find'])?.trim() ?? '';
  const guardianOf = personIn(query['guardian']);
  const [groups, invitations, clearances, concerns, forPlayer] = await Promise.all([
    find === '' ? listGroups() : findGroup(),
    listInvitations(viewer, frame.now, { after: oneOf(query['invitations']) }),
    listClearances(viewer),
    countConcerns(viewer),
    guardianOf && readPlayer(viewer, guardianOf),
  ]);
  const mayLead = isLead(viewer);
  const minors = new Map(
    [...groups.flatMap((group) => group.people), ...(forPlayer ? [{ ...forPlayer, roles: ['player'] }] : [])]
      .filter((person) => person.roles.includes('player') && isMinor(person, today))
      .map(({ personId, name }) => [personId, { personId, name }]),
  );

  async function listGroups() {
    const [care, players, guardians, staff] = await Promise.all([
      listNeedingCare(viewer, today, { after: personIn(query['care']) }),
      listPeople(viewer, 'player', { after: personIn(query['players']) }),
      listPeople(viewer, 'guardian', { after: personIn(query['guardians']) }),
      listPeople(viewer, 'staff', { after: personIn(query['staff']) }),
    ]);
    // Who needs care stands in the first list.
    const others = players.rows.filter((person) => !needsCare(person, today));
    return [
      { title: 'Need care', list: 'care', people: care.rows, next: care.next },
      { title: 'Players', list: 'players', people: others, next: players.next },
      { title: 'Guardians', list: 'guardians', people: guardians.rows, next: guardians.next },
      { title: 'Staff', list: 'staff', people: staff.rows, next: staff.next },
    ].filter((group) => group.people.length > 0 || group.next !== null);
  }
  async function findGroup() {
    const { rows, hasMore } = await findPeople(viewer, find);
    return rows.length === 0 ? [] : [{ title: 'Found', list: 'found', people: rows, next: null, hasMore }];
  }

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
      <FrameBar frame={frame} current="people" isReading />
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
        <Row label="Find">
          <Form action="/people" role="search" className="acts">
            <input
              className="write"
              type="search"
              name="find"
              defaultValue={find}
              maxLength={80}
              aria-label="Find people by name"
              placeholder="Find people by name"
            />
            <button className="btn">Find</button>
          </Form>
          {find === '' ? null : (
            <p className="small soft">
              {groups.some((group) => group.people.length > 0)
                ? `Found for “${find}”. `
                : `Nobody here is called “${find}”. `}
              <Link href="/people">See everybody</Link>
            </p>
          )}
        </Row>
        {groups.map((group) => (
          <Row key={group.list} label={group.title} id={group.list}>
            <ul className={group.people.length > 0 ? 'ruled' : undefined}>
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
                    isOfStaff(group, person) && (mayLead || person.personId === viewer.personId) ? (
                      <Clearances
                        person={person}
                        clearances={clearances.get(person.personId) ?? []}
                        mayChange={mayLead}
                        today={today}
                        freshIds={[ports.ids.uuid(), ports.ids.uuid()]}
                      />
                    ) : null
                  }
                  roleButtons={isOfStaff(group, person) ? roleButtons(person) : null}
                />
              ))}
            </ul>
            <MoreLink page="/people" list={group.list} next={group.next} query={query}>
              {MORE_WORDS[group.list] ?? 'More'}
            </MoreLink>
            {'hasMore' in group && group.hasMore ? (
              <p className="small soft">More names fit. Type more of the name to see them.</p>
            ) : null}
          </Row>
        ))}
        <Row label="Invite" id="invite">
          <div className="stack read">
            <InviteForm
              key={forPlayer?.personId ?? ''}
              isLead={mayLead}
              minors={[...minors.values()]}
              forPlayer={forPlayer && minors.has(forPlayer.personId) ? forPlayer.personId : null}
              invite={invite}
            />
            {mayLead ? (
              <p>
                <Link href="/people/invitations">Invite many at once by a table</Link>
              </p>
            ) : null}
          </div>
        </Row>
        <Row label="Invitations" id="invitations">
          {invitations.rows.length === 0 ? (
            <p>
              {oneOf(query['invitations'])
                ? 'There are none before that.'
                : 'None yet. Invite a player, a guardian or a coach above.'}
            </p>
          ) : (
            <InvitationList
              invitations={invitations.rows}
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
          <MoreLink page="/people" list="invitations" next={invitations.next} query={query}>
            Earlier invitations
          </MoreLink>
        </Row>
      </Page>
    </>
  );
}
