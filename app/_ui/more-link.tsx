import Link from 'next/link';
import type { ReactNode } from 'react';

/** The parameters of a page's address as the framework hands them over. */
export type PageQuery = Record<string, string | string[] | undefined>;

/** The one value of a parameter; null when it is absent, or there several times. */
export const oneOf = (value: string | string[] | undefined) => (typeof value === 'string' ? value : null);

type Props = {
  /** The page's own address, without a query. */
  page: string;
  /** The name of the list's place in the address, and the id of its part of the page. */
  list: string;
  /** What a list answered as its `next`; null at its end, where there is no link. */
  next: string | null;
  /** What else stands in the page's address: where its other lists are, and what was looked for. */
  query?: PageQuery;
  /** The id of its part of the page where it is not called like the list. */
  at?: string;
  children: ReactNode;
};

const wordsIn = (query: PageQuery): [string, string][] =>
  Object.entries(query).flatMap(([name, value]) => (typeof value === 'string' ? [[name, value]] : []));

/** The way to the next page of one list of a page; the other lists stay where they are. */
export const MoreLink = ({ page, list, next, query = {}, at = list, children }: Props) =>
  next === null ? null : (
    <p className="acts">
      <Link
        className="btn"
        href={`${page}?${new URLSearchParams({ ...Object.fromEntries(wordsIn(query)), [list]: next }).toString()}#${at}`}
      >
        {children}
      </Link>
    </p>
  );
