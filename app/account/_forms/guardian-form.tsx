'use client';

import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import type { Answer } from '@/lib/domain/shared/result';

type Props = { send: (before: null, form: FormData) => Promise<Answer<{ isSent: boolean }>> };

/** A player names the parent or guardian who is to stand on the thread. */
export const GuardianForm = ({ send }: Props) => {
  const { isBusy, answer, refused, fault, submit } = useFormAction(send);
  return (
    <form className="stack" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {answer?.ok && (
        <Notice kind="done">
          An invitation is on its way. Once it is accepted, your program confirms it and your coach can write.
        </Notice>
      )}
      <TextField
        label="Their name"
        name="name"
        autoComplete="off"
        maxLength={80}
        required
        error={fault('name')}
      />
      <TextField
        label="Their e-mail"
        name="email"
        type="email"
        autoComplete="off"
        required
        error={fault('email')}
      />
      <div className="acts">
        <button className="btn" disabled={isBusy}>
          {isBusy ? 'Sending' : 'Send the invitation'}
        </button>
      </div>
    </form>
  );
};
