import type { Metadata } from 'next';
import Link from 'next/link';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { Pennant } from '@/app/_ui/pennant';
import { FrameBar } from '@/app/_ui/frame-bar';
import { FRESH_LINK } from '@/lib/auth/session';
import { listExpectedChildren } from '@/lib/data/invitations.read';
import { hasCalendar } from '@/lib/data/calendar.read';
import { listWards, readAccount, readPlayer, type WardCard } from '@/lib/data/people.read';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { CONSENT_TEXT, isMinor, staffContact } from '@/lib/domain/people/safeguarding';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { pageFrame } from '../_server/page-frame';
import { ports } from '../_server/ports';
import { getSession, isDueForRenewal, requireViewer } from '../_server/viewer';
import {
  addMyChild,
  changeMyPassword,
  nameMyGuardian,
  setPause,
  signOutElsewhere,
  switchProgram,
} from './actions';
import { CalendarForm } from './_forms/calendar-form';
import { ChildForm } from './_forms/child-form';
import { ExpectedChildren } from './_forms/expected-children';
import { GuardianForm } from './_forms/guardian-form';
import { KeepSignedIn } from './_forms/keep-signed-in';
import { OneButton } from './_forms/one-button';
import { PasswordForm } from './_forms/password-form';
import { SignOut } from './_forms/sign-out';

export const metadata: Metadata = { title: 'Account' };

/** One's own account: children, guardians, programs, password, devices. */
export default async function AccountPage() {
  const viewer = await requireViewer('/account');
  const [session, account, frame] = await Promise.all([getSession(), readAccount(viewer), pageFrame(viewer)]);
  const now = ports.clock.now();
  const isFresh = session?.claims.how === 'link' && session.claims.since + FRESH_LINK > now.getTime() / 1000;
  const today = dayIn(frame.timeZone, now);
  return (
    <>
      {session && isDueForRenewal(session, now) && <KeepSignedIn />}
      <FrameBar frame={frame} current="account" isReading />
      <Page>
        <PageHead title={account.name} over={account.email ?? undefined} />
        {isStaff(viewer) && (
          <Row label="Remarks">
            <p>
              <Link href="/remarks">Your shelf of remarks</Link> that you say again and again.
            </p>
          </Row>
        )}
        <Row label="Notices">
          <p>
            <Link href="/notices/choices">Choose which notices come by mail</Link>
          </p>
        </Row>
        {isStaff(viewer) && (
          <Row label="Calendar">
            <div className="read">
              <CalendarForm isOpen={await hasCalendar(viewer)} />
            </div>
          </Row>
        )}
        {viewer.roles.includes('guardian') && (
          <Row label="Children">
            <Children viewer={viewer} />
          </Row>
        )}
        {viewer.roles.includes('player') && isMinor(account, today) && (
          <Row label="Parent or guardian">
            <MyGuardians viewer={viewer} today={today} />
          </Row>
        )}
        {viewer.roles.includes('player') && (
          <Row label="Consent">
            <p>
              <Link href={`/players/${viewer.personId}/care`}>What you have agreed to</Link>
            </p>
          </Row>
        )}
        {!(viewer.roles.includes('player') && isMinor(account, today)) && (
          <Row label="What is kept">
            <p>
              <Link href={`/everything/${viewer.personId}`}>
                How long things are kept, a copy, and erasing them
              </Link>
            </p>
          </Row>
        )}
        {session && session.programs.length > 1 && (
          <Row label="Programs">
            <ul className="ruled read">
              {session.programs.map(({ programId, name }) => (
                <li key={programId} className="acts">
                  <span>{name}</span>
                  {programId === viewer.programId ? (
                    <span className="soft">You are looking at this one</span>
                  ) : (
                    <OneButton
                      action={switchProgram}
                      fields={{ programId }}
                      label={`Turn to ${name}`}
                      isSmall
                    />
                  )}
                </li>
              ))}
            </ul>
          </Row>
        )}
        <Row label="Password">
          <div className="read">
            {account.isDemo ? (
              <p>Demo people are entered by the demo door and need none.</p>
            ) : (
              <PasswordForm
                email={account.email ?? ''}
                asksOld={account.hasPassword && !isFresh}
                change={changeMyPassword}
              />
            )}
          </div>
        </Row>
        <Row label="Devices">
          <div className="stack read">
            <p>
              A device stays signed in for 30 days after its last visit, and for 120 days at most. If a phone
              is lost, sign out everywhere else.
            </p>
            <OneButton
              action={signOutElsewhere}
              label="Sign out everywhere else"
              done="Every other device has been signed out."
            />
            <div className="acts">
              <SignOut />
            </div>
          </div>
        </Row>
      </Page>
    </>
  );
}

async function Children({ viewer }: { viewer: Viewer }) {
  const [wards, expected] = await Promise.all([listWards(viewer), listExpectedChildren(viewer)]);
  return (
    <div className="stack read">
      {wards.length === 0 && (
        <p>
          Nobody yet. Add a child, and you can send swings for them. A child you were invited for appears here
          once the program has confirmed you.
        </p>
      )}
      {wards.length > 0 && (
        <ul className="ruled">
          {wards.map((ward) => (
            <li key={ward.personId}>
              <Ward ward={ward} />
            </li>
          ))}
        </ul>
      )}
      <ExpectedChildren expected={expected} freshIds={expected.map(() => ports.ids.uuid())} />
      <ChildForm freshId={ports.ids.uuid()} consentText={CONSENT_TEXT} add={addMyChild} />
    </div>
  );
}

const Ward = ({ ward }: { ward: WardCard }) => (
  <div className="stack tight">
    <h3>{ward.name}</h3>
    <p className="small soft">
      {ward.hasLogin
        ? 'Has a login of their own; you see all of it.'
        : 'You hold this profile; there is no login.'}
    </p>
    {ward.isPaused && <Pennant>You have paused contact: nobody of the program can write.</Pennant>}
    <OneButton
      action={setPause}
      fields={{ playerId: ward.personId, isPaused: ward.isPaused ? 'no' : 'yes' }}
      label={ward.isPaused ? 'Allow contact again' : 'Pause contact'}
      spoken={ward.isPaused ? `Allow contact with ${ward.name} again` : `Pause contact with ${ward.name}`}
    />
    {!ward.isPaused && (
      <p className="small soft">
        Pausing stops every adult of the program from writing to {ward.name}, at once.
      </p>
    )}
    <p>
      <Link href={`/players/${ward.personId}/care`}>Consent, and who saw what, of {ward.name}</Link>
    </p>
    <p>
      <Link href={`/everything/${ward.personId}`}>
        What is kept of {ward.name}: how long, a copy, and erasing it
      </Link>
    </p>
  </div>
);

async function MyGuardians({ viewer, today }: { viewer: Viewer; today: Day }) {
  const player = await readPlayer(viewer, viewer.personId);
  if (!player) return null;
  const isMissing = staffContact(player, player.guardians, today) === 'no-guardian';
  return (
    <div className="stack read">
      {player.guardians.length > 0 && (
        <ul className="ruled">
          {player.guardians.map(({ personId, name, isVerified, isPaused }) => (
            <li key={personId}>
              {name}
              {!isVerified && <span className="soft">: waiting for your program to confirm</span>}
              {isPaused && <span className="soft">: has paused contact</span>}
            </li>
          ))}
        </ul>
      )}
      {isMissing && (
        <>
          <Pennant>Your coach can write to you once a parent or guardian stands on your thread.</Pennant>
          <p>You can send swings already. Name the person, and they get an invitation by mail.</p>
        </>
      )}
      <GuardianForm send={nameMyGuardian} />
      <p className="small">
        <Link href="/lessons">Back to your lessons</Link>
      </p>
    </div>
  );
}
