'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition, type FormEvent } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { confirmSafetyAction } from '@/app/practice/actions';
import { ADULT_LINE, SAFETY_LINES } from '@/lib/domain/drills/practice';
import type { PersonId } from '@/lib/domain/shared/ids';
import css from './practice.module.css';

/** What is confirmed before the first practice; for a child also which adult is present. */
export const SafetyForm = ({ playerId, isChild }: { playerId: PersonId; isChild: boolean }) => {
  const router = useRouter();
  const [adult, setAdult] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const lines = [...SAFETY_LINES, ...(isChild ? [ADULT_LINE] : [])];
  const send = (event: FormEvent) => {
    event.preventDefault();
    start(async () => {
      const answer = await answerOf(
        confirmSafetyAction({ playerId, adult }),
        'The connection is lost. Press again in a moment.',
      );
      setRefusal(answer.ok ? null : answer.message);
      if (answer.ok) router.refresh();
    });
  };
  return (
    <form onSubmit={send} className={css.panel} aria-label="Before the first practice">
      <p>Look at the place where you practise, then tick each line.</p>
      {lines.map((line) => (
        <label key={line} className={css.tick}>
          <input type="checkbox" required /> <span>{line}</span>
        </label>
      ))}
      {isChild ? (
        <TextField
          label="Which adult is present"
          value={adult}
          maxLength={80}
          required
          onChange={(event) => setAdult(event.target.value)}
        />
      ) : null}
      <p className="small soft">Your league, school or program may ask for more. Their rules come first.</p>
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      <p className="acts">
        <button type="submit" className="btn do" disabled={isBusy}>
          The place is safe
        </button>
      </p>
    </form>
  );
};
