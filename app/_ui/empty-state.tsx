import type { ReactNode } from 'react';

/** Nothing here yet: says what will be here and what to do next (`children` may hold the button). */
export const EmptyState = ({ title, children }: { title: string; children?: ReactNode }) => (
  <div className="empty">
    <h2>{title}</h2>
    {children}
  </div>
);
