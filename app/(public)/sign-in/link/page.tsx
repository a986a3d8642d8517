import type { Metadata } from 'next';
import Link from 'next/link';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import { OpenLink } from '../_form/open-link';

export const metadata: Metadata = { title: 'Sign in by link' };

/** Where the link of a sign-in mail leads. */
export default function SignInLinkPage() {
  return (
    <>
      <TopBar programName="Cagepost" isReading />
      <Page kind="narrow">
        <PageHead title="Your link has arrived">
          <p>One press and you are in.</p>
        </PageHead>
        <div className="stack">
          <OpenLink />
          <p className="small">
            <Link href="/sign-in">Ask for another link, or use a password</Link>
          </p>
        </div>
      </Page>
    </>
  );
}
