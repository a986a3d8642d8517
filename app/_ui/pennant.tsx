import type { ReactNode } from 'react';

/** What needs care: a pennant and the reason in words. */
export const Pennant = ({ children }: { children: ReactNode }) => (
  <span className="care">
    <svg viewBox="0 0 15 18" aria-hidden="true" focusable="false">
      <path d="M2 17V1l12 5-12 5" fill="none" stroke="currentColor" strokeWidth="2" />
    </svg>
    <span>{children}</span>
  </span>
);
