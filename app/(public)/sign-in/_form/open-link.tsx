'use client';

import { signIn } from 'next-auth/react';
import { useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import { refusalWords } from './refusal-words';

const SPENT = 'This link has been used, or its 15 minutes are over. Ask for a new one; it comes at once.';

/**
 * The button that uses the link up. A press of its own, because mail scanners open links by themselves and would
 * spend it; the token stands behind the # and reaches the server in the body of this one request only.
 */
export const OpenLink = () => {
  const [isBusy, setBusy] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);

  const open = async () => {
    setBusy(true);
    setRefused(null);
    try {
      const answer = await signIn('link', { token: window.location.hash.slice(1), redirect: false });
      if (answer?.ok) return window.location.replace('/sign-in');
      setRefused(answer?.error === 'CredentialsSignin' ? SPENT : refusalWords(answer?.error));
    } catch {
      setRefused(refusalWords('unavailable'));
    }
    setBusy(false);
  };

  return (
    <div className="stack">
      {refused && <Notice kind="refused">{refused}</Notice>}
      <div className="acts">
        <button type="button" className="btn do big" disabled={isBusy} onClick={() => void open()}>
          {isBusy ? 'Signing in' : 'Sign in'}
        </button>
      </div>
    </div>
  );
};
