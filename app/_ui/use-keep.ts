'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition, type FormEvent } from 'react';

type Outcome = { ok: true } | { ok: false; message: string; fields?: Record<string, string[]> };
type Said = { isKept: boolean; words: string; fields?: Record<string, string[]> };

const LOST: Outcome = { ok: false, message: 'This did not reach us. Press again in a moment.' };

/**
 * Keeps what a form with fields of its own state says, and reads the page anew. A refusal, a lost connection too,
 * stands as words and leaves what was written as it is. `doneWords` is said once it is kept.
 */
export function useKeep(work: () => Outcome | Promise<Outcome>, doneWords: string) {
  const [said, setSaid] = useState<Said | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const keep = async () => {
    // Not thrown on: in a transition it would put the error page in the place of what was written.
    const outcome = await Promise.resolve(work()).catch(() => LOST);
    if (!outcome.ok) return setSaid({ isKept: false, words: outcome.message, fields: outcome.fields });
    setSaid({ isKept: true, words: doneWords });
    router.refresh();
  };
  return {
    isBusy,
    /** What came of the last press. */
    kept: said,
    /** What is wrong with one field, if anything. */
    faultOf: (field: string) => said?.fields?.[field]?.[0],
    /** Takes the last words away: they are not about what is written now. */
    unsay: () => setSaid(null),
    submit: (event: FormEvent) => {
      event.preventDefault();
      start(keep);
    },
  };
}
