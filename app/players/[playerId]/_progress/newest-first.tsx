'use client';

import { useEffect, useRef, type ReactNode } from 'react';
import css from './progress.module.css';

/** A part that scrolls sideways by itself and shows its right end, the newest lesson, at first. */
export const NewestFirst = ({ label, children }: { label: string; children: ReactNode }) => {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (box.current) box.current.scrollLeft = box.current.scrollWidth;
  }, []);
  return (
    <div ref={box} className={css.book} role="region" tabIndex={0} aria-label={label}>
      {children}
    </div>
  );
};
