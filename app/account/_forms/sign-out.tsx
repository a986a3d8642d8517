'use client';

import { signOut } from 'next-auth/react';
import { useState } from 'react';

/** Signs this device out. */
export const SignOut = () => {
  const [isBusy, setBusy] = useState(false);
  const leave = () => {
    setBusy(true);
    signOut({ callbackUrl: '/sign-in' }).catch(() => setBusy(false));
  };
  return (
    <button type="button" className="btn" disabled={isBusy} onClick={leave}>
      {isBusy ? 'Signing out' : 'Sign out'}
    </button>
  );
};
