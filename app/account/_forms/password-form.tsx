'use client';

import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import type { Answer } from '@/lib/domain/shared/result';

type Props = {
  email: string;
  /** False right after coming in by a link, and for somebody who has none yet. */
  asksOld: boolean;
  change: (before: null, form: FormData) => Promise<Answer<{ isChanged: boolean }>>;
};

/** A new password; every other device is signed out with it. */
export const PasswordForm = ({ email, asksOld, change }: Props) => {
  const { isBusy, answer, refused, fault, submit } = useFormAction(change);
  return (
    <form className="stack" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {answer?.ok && (
        <Notice kind="done">Your new password holds. Every other device has been signed out.</Notice>
      )}
      <input type="email" autoComplete="username" value={email} readOnly hidden />
      {asksOld && (
        <TextField
          label="Present password"
          hint="Forgotten? Sign out and let a link be mailed to you; then you are not asked for it."
          name="oldPassword"
          type="password"
          autoComplete="current-password"
          required
        />
      )}
      <TextField
        label="New password"
        hint="At least 10 characters. Three or four words in a row work well."
        name="newPassword"
        type="password"
        autoComplete="new-password"
        required
        error={fault('newPassword')}
      />
      <div className="acts">
        <button className="btn" disabled={isBusy}>
          {isBusy ? 'Setting it' : 'Set the new password'}
        </button>
      </div>
    </form>
  );
};
