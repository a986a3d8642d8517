'use client';

import { signIn } from 'next-auth/react';
import { useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import { refusalWords } from '../../sign-in/_form/refusal-words';

type Props = { groups: { title: string; people: { id: string; name: string; line: string }[] }[] };

/** One press a person. */
export const DemoDoor = ({ groups }: Props) => {
  const [busyId, setBusyId] = useState<string | null>(null);
  const [refused, setRefused] = useState<string | null>(null);

  const enter = async (personId: string) => {
    setBusyId(personId);
    setRefused(null);
    try {
      const answer = await signIn('demo', { personId, redirect: false });
      if (answer?.ok) return window.location.assign('/sign-in');
      setRefused(refusalWords(answer?.error));
    } catch {
      setRefused(refusalWords('unavailable'));
    }
    setBusyId(null);
  };

  return (
    <div className="stack">
      {refused && <Notice kind="refused">{refused}</Notice>}
      {groups.map(({ title, people }) => (
        <section key={title} aria-label={title}>
          <h2>{title}</h2>
          <ul className="ruled">
            {people.map(({ id, name, line }) => (
              <li key={id} className="acts">
                <button
                  type="button"
                  className="btn"
                  disabled={busyId !== null}
                  onClick={() => void enter(id)}
                >
                  {busyId === id ? 'Coming in' : `Look around as ${name}`}
                </button>
                <span className="small soft">{line}</span>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </div>
  );
};
