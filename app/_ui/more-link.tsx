import Link from 'next/link';
import type { ReactNode } from 'react';

type Props = {
  /** The page's own address, without a query. */
  page: string;
  /** The name of the list's place in the address, and the id of its part of the page. */
  list: string;
  /** What a list answered as its `next`; null at its end, where there is no link. */
  next: string | null;
  /** The id of its part of the page where it is not called like the list. */
  at?: string;
  children: ReactNode;
};

/** The way to the next page of one list of a page. */
export const MoreLink = ({ page, list, next, at = list, children }: Props) =>
  next === null ? null : (
    <p className="acts">
      <Link className="btn" href={`${page}?${new URLSearchParams({ [list]: next }).toString()}#${at}`}>
        {children}
      </Link>
    </p>
  );
