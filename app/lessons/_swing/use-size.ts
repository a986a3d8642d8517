'use client';

import { useEffect, useState, type RefObject } from 'react';

/** The size of an element in CSS pixels, kept up to date; null before it is known. */
export function useSize(ref: RefObject<HTMLElement | null>): { width: number; height: number } | null {
  const [size, setSize] = useState<{ width: number; height: number } | null>(null);
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const watch = new ResizeObserver(([entry]) => {
      if (!entry) return;
      const { width, height } = entry.contentRect;
      setSize(width > 0 && height > 0 ? { width, height } : null);
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, [ref]);
  return size;
}
