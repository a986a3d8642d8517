'use client';

import Link from 'next/link';
import { useEffect, useRef } from 'react';
import { Page } from './_ui/page-grid';
import { TopBar } from './_ui/top-bar';

type Props = { error: Error & { digest?: string }; reset: () => void };

/** Shown in place of a page that broke. The digest finds the entry in the server's log; the error itself is not shown. */
export default function ErrorPage({ error, reset }: Props) {
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => title.current?.focus(), []);
  return (
    <>
      <TopBar programName="Cagepost" />
      <Page kind="narrow">
        <header className="pagehead" role="alert">
          <h1 ref={title} tabIndex={-1}>
            Something broke on our side.
          </h1>
        </header>
        <div className="stack">
          <p>
            This page could not be shown. What you had sent or saved before is kept, and a clip that was on
            its way goes on from where it stopped.
          </p>
          <p className="acts">
            <button type="button" className="btn do" onClick={reset}>
              Try this page again
            </button>
            <Link className="btn quiet" href="/">
              Go to the first page
            </Link>
          </p>
          {error.digest && (
            <p className="small soft">
              If it keeps happening, tell your program this number:{' '}
              <span className="num">{error.digest}</span>
            </p>
          )}
        </div>
      </Page>
    </>
  );
}
