'use client';

import './globals.css';

/** The last resort, when even the layout broke: no components, no links that need the app. */
export default function GlobalError({ error }: { error: Error & { digest?: string } }) {
  return (
    <html lang="en">
      <body>
        <title>Something broke</title>
        <main className="page narrow">
          <header className="pagehead" role="alert">
            <h1>Something broke on our side.</h1>
          </header>
          <div className="stack">
            <p>Nothing could be shown. What you had sent or saved before is kept.</p>
            <p>
              {/* A plain link: the whole page has to load afresh. */}
              <a className="btn do" href="/">
                Load it again
              </a>
            </p>
            {error.digest && <p className="small soft">Number for your program: {error.digest}</p>}
          </div>
        </main>
      </body>
    </html>
  );
}
