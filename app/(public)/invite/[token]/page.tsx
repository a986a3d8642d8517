import type { Metadata } from 'next';
import Link from 'next/link';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import { asSystem } from '@/lib/auth/system';
import { CONSENT_TEXT } from '@/lib/domain/people/safeguarding';
import { openInvitation, type OpenInvitation } from '@/lib/workflows/open-invitation';
import { ports } from '../../../_server/ports';
import { getSession } from '../../../_server/viewer';
import { acceptAsKnown, acceptAsNew } from './actions';
import { AcceptForm, SignOutFirst } from './_form/accept-form';

// The token in the address must not travel on with a link.
export const metadata: Metadata = { title: 'Invitation', referrer: 'no-referrer' };

type Props = { params: Promise<{ token: string }> };

/** An invitation, for whoever holds its link. */
export default async function InvitePage({ params }: Props) {
  const { token } = await params;
  const [invitation, session] = await Promise.all([
    openInvitation({ clock: ports.clock }, asSystem('sign-in'), token),
    getSession(),
  ]);
  return (
    <>
      <TopBar programName={invitation?.programName ?? 'Cagepost'} isReading />
      <Page kind="narrow">
        {invitation ? (
          <>
            <PageHead title={`Join ${invitation.programName}`}>
              <p>{wordsFor(invitation)}</p>
            </PageHead>
            <Accept token={token} invitation={invitation} signedInAs={session?.claims.sub ?? null} />
          </>
        ) : (
          <EmptyState title="This invitation is not open">
            <p>
              It was used, taken back, or is older than two weeks. Ask whoever sent it for a new one. If you
              have joined already, <Link href="/sign-in">sign in</Link>.
            </p>
          </EmptyState>
        )}
      </Page>
    </>
  );
}

const wordsFor = ({ inviterName, role, playerName, childName }: OpenInvitation): string => {
  if (role === 'coach') return `${inviterName} invites you to coach hitters here.`;
  if (role === 'player') return `${inviterName} invites you to send in swings and get hitting lessons back.`;
  if (playerName) {
    return `${inviterName} invites you as parent or guardian of ${playerName}: you see every lesson and every word, and you can pause contact at any time.`;
  }
  return `${inviterName} invites you as a parent or guardian. You can then add ${childName ?? 'your child'}, send swings and read every lesson.`;
};

type AcceptProps = { token: string; invitation: OpenInvitation; signedInAs: string | null };

function Accept({ token, invitation, signedInAs }: AcceptProps) {
  const { accountId, name, email, needsBirthDate, role } = invitation;
  const path = `/invite/${token}`;
  if (accountId && !signedInAs) {
    return (
      <div className="stack">
        <p>You already have an account under {email}.</p>
        <div className="acts">
          <Link className="btn do big" href={`/sign-in?next=${encodeURIComponent(path)}`}>
            Sign in to accept
          </Link>
        </div>
      </div>
    );
  }
  if (accountId && signedInAs !== accountId) {
    return (
      <div className="stack">
        <p>This invitation is for {email}. Somebody else is signed in here at the moment.</p>
        <div className="acts">
          <SignOutFirst back={path} />
        </div>
      </div>
    );
  }
  return (
    <AcceptForm
      token={token}
      name={name}
      email={email}
      hasAccount={accountId !== null}
      needsBirthDate={needsBirthDate}
      consentText={role === 'guardian' ? CONSENT_TEXT : null}
      accept={accountId ? acceptAsKnown : acceptAsNew}
    />
  );
}
