'use client';

import Link from 'next/link';
import type { ReactNode } from 'react';

/** Leads to where a notice is about, and notes on the way that it was opened. */
export const NoticeLink = ({ id, path, children }: { id: string; path: string; children: ReactNode }) => {
  const note = () => {
    const body = JSON.stringify({ id });
    // The page is left at the same moment, and a note that is lost leaves the notice unread: nothing more.
    fetch('/api/notices/read', { method: 'POST', body, keepalive: true }).catch(() => {});
  };
  return (
    <Link href={path} prefetch={false} onClick={note}>
      {children}
    </Link>
  );
};
