import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { Notice } from '@/app/_ui/notice';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import { authSettings } from '@/lib/auth/settings';
import { homePath, localPath } from '../../_server/local-path';
import { getSession } from '../../_server/viewer';
import { askForLink } from './actions';
import { SignInForm } from './_form/sign-in-form';

export const metadata: Metadata = { title: 'Sign in' };

type Props = {
  searchParams: Promise<{ next?: string | string[]; callbackUrl?: string | string[]; why?: string }>;
};
const one = (value: string | string[] | undefined) => (Array.isArray(value) ? value[0] : value);

/** Sign in. Somebody who is signed in already goes straight on. */
export default async function SignInPage({ searchParams }: Props) {
  const { next, why } = await searchParams;
  const session = await getSession();
  const goal = localPath(one(next));
  if (session?.viewer) redirect(goal ?? homePath(session.viewer.roles));
  const here = goal ? `/sign-in?next=${encodeURIComponent(goal)}` : '/sign-in';
  return (
    <>
      <TopBar programName="Cagepost" isReading />
      <Page kind="narrow">
        <PageHead title="Sign in" />
        <div className="stack">
          {(session || why === 'no-program') && (
            <Notice kind="info" title="You are not in a program at the moment">
              <p>Ask your coach or academy for a new invitation. Your account itself is still here.</p>
            </Notice>
          )}
          <SignInForm next={here} askForLink={askForLink} />
          {authSettings().isDemoDoorOpen && (
            <p className="ruled">
              <Link href="/demo">Look around as somebody of the demo academy</Link>
            </p>
          )}
          <p className="small soft">
            Accounts are made by invitation. If you have none, ask your coach or academy for one.
          </p>
        </div>
      </Page>
    </>
  );
}
