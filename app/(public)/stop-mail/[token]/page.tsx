import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { stopTokenOf } from '@/app/_server/stop-mail';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import { NOTICE_KINDS } from '@/lib/domain/notices/notice';
import { stoppable } from '@/lib/domain/notices/stop';
import { StopButton } from '../_form/stop-button';

export const metadata: Metadata = { title: 'Stop these mails' };

/** Where the link at the foot of a mail leads: it names the kind, and one press ends it. Nothing says whose it is. */
export default async function StopMailPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const kind = stoppable(stopTokenOf(token)?.kind ?? '');
  if (!kind) notFound();
  return (
    <>
      <TopBar programName="Cagepost" isReading />
      <Page kind="narrow">
        <PageHead title="Stop these mails?">
          <p>
            {kind === 'digest'
              ? 'You would get no more daily mail, and none of the notices in it by mail.'
              : `You would get no more mail of this kind: ${NOTICE_KINDS[kind].title}.`}{' '}
            On the site all notices stand as before.
          </p>
        </PageHead>
        <div className="stack">
          <StopButton token={token} />
          <p className="small">
            <Link href="/notices/choices">Sign in and choose each kind for itself</Link>
          </p>
        </div>
      </Page>
    </>
  );
}
