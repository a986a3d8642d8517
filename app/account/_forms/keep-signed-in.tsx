'use client';

import { getSession } from 'next-auth/react';
import { useEffect } from 'react';

/** Asks for the session once, which renews its cookie. Rendered only when it is old enough for that. */
export const KeepSignedIn = () => {
  useEffect(() => {
    getSession({ broadcast: false }).catch(() => undefined);
  }, []);
  return null;
};
