import type { ReactNode } from 'react';

type Props = {
  /** `refused` is read out at once (alert); the others politely (status). `plain` is not announced at all. */
  kind?: 'done' | 'info' | 'refused' | 'plain';
  title?: string;
  children?: ReactNode;
};

const ROLE = { done: 'status', info: 'status', refused: 'alert', plain: undefined } as const;

/** What the page has to say about what just happened: what happened, what was kept, what to do. */
export const Notice = ({ kind = 'info', title, children }: Props) => (
  <div className={`notice ${kind}`} role={ROLE[kind]}>
    {title && <p className="slab">{title}</p>}
    {children}
  </div>
);
