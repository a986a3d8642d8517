'use client';

import { useState, type FormEvent } from 'react';
import type { Answer } from '@/lib/domain/shared/result';

type Action<T> = (before: null, form: FormData) => Promise<Answer<T>>;

const OFFLINE = 'This did not reach us. Everything you wrote is kept; please try again.';

/**
 * Sends a form to a server action and keeps its answer. Not through the form's own `action`: that one empties the
 * fields after every answer, a refusal too, and people would have to write everything again.
 */
export function useFormAction<T>(
  action: Action<T>,
  onDone?: (value: T, form: FormData) => void | Promise<void>,
) {
  const [isBusy, setBusy] = useState(false);
  const [answer, setAnswer] = useState<Answer<T> | null>(null);

  const send = async (form: FormData) => {
    setBusy(true);
    setAnswer(null);
    try {
      const got = await action(null, form);
      setAnswer(got);
      if (got.ok) await onDone?.(got.value, form);
    } catch {
      setAnswer({ ok: false, fault: 'unavailable', message: OFFLINE });
    }
    setBusy(false);
  };

  return {
    isBusy,
    answer,
    /** The sentence of a refusal, or null. */
    refused: answer && !answer.ok ? answer.message : null,
    /** What is wrong with one field, or null. */
    fault: (field: string) => (answer && !answer.ok ? (answer.fields?.[field]?.[0] ?? null) : null),
    submit: (event: FormEvent<HTMLFormElement>) => {
      event.preventDefault();
      void send(new FormData(event.currentTarget));
    },
  };
}
