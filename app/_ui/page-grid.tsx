import Link from 'next/link';
import type { ReactNode } from 'react';

type PageProps = {
  /** `book`: label column, margin line and text. `narrow`: one column for a form. `broad`: tables and the desk. */
  kind?: 'book' | 'narrow' | 'broad';
  className?: string;
  children: ReactNode;
};

/** The main part of a page on the scorebook's grid; the skip link of `TopBar` leads here. Its foot is the way to be heard. */
export const Page = ({ kind = 'book', className, children }: PageProps) => (
  <>
    <main id="main" tabIndex={-1} className={['page', kind, className ?? ''].filter(Boolean).join(' ')}>
      {children}
    </main>
    <footer className={`foot ${kind}`}>
      <Link href="/concerns/new" prefetch={false}>
        Raise a concern
      </Link>
    </footer>
  </>
);

type RowProps = {
  /** Stands in the label column; above the row on a phone. */
  label: string;
  id?: string;
  /** Stands to the right where there is room, under the text on a phone. */
  aside?: ReactNode;
  children: ReactNode;
};

/** One ruled row of a book page: a named region with its label in the margin. */
export const Row = ({ label, id, aside, children }: RowProps) => (
  <section className={aside ? 'row sided' : 'row'} id={id} aria-label={label}>
    <h2 className="over">{label}</h2>
    <div>{children}</div>
    {aside && <div className="aside">{aside}</div>}
  </section>
);

/** The head of a page: its title and a line of soft words above or under it. */
export const PageHead = ({
  title,
  over,
  children,
}: {
  title: string;
  over?: ReactNode;
  children?: ReactNode;
}) => (
  <header className="pagehead">
    {over && <p className="small soft">{over}</p>}
    <h1>{title}</h1>
    {children}
  </header>
);
