import type { Metadata } from 'next';
import Link from 'next/link';
import { Page, PageHead } from './_ui/page-grid';
import { TopBar } from './_ui/top-bar';

export const metadata: Metadata = { title: 'Not here' };

export default function NotFound() {
  return (
    <>
      <TopBar programName="Cagepost" />
      <Page kind="narrow">
        <PageHead title="There is nothing here for you to see." />
        <div className="stack">
          <p>
            The page does not exist, or it belongs to somebody else. Links in mails can grow old, and some
            work only once. Nothing was changed or lost.
          </p>
          <p>
            <Link className="btn do" href="/">
              Go to the first page
            </Link>
          </p>
          <p className="small soft">
            If somebody of your program gave you this address, ask them to send it again.
          </p>
        </div>
      </Page>
    </>
  );
}
