'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';

const ASK_AGAIN_MS = 4000;

/** Reads the page anew every few seconds while something on it is on its way, and only while somebody looks. */
export function useAskAgain(isMoving: boolean): void {
  const router = useRouter();
  useEffect(() => {
    if (!isMoving) return;
    const timer = setInterval(() => document.visibilityState === 'visible' && router.refresh(), ASK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [isMoving, router]);
}
