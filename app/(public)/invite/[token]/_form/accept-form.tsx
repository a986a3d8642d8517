'use client';

import { signIn, signOut } from 'next-auth/react';
import { Agree } from '@/app/_ui/agree';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import type { Answer } from '@/lib/domain/shared/result';

type Action = (before: null, form: FormData) => Promise<Answer<{ isAccepted: boolean }>>;
type Props = {
  token: string;
  name: string;
  email: string;
  hasAccount: boolean;
  needsBirthDate: boolean;
  /** What a guardian agrees to; null for everybody else. */
  consentText: string | null;
  accept: Action;
};

/** Accepting an invitation: with a new name and password, or as the account that is signed in. */
export const AcceptForm = ({
  token,
  name,
  email,
  hasAccount,
  needsBirthDate,
  consentText,
  accept,
}: Props) => {
  const goOn = async (_value: unknown, form: FormData) => {
    if (!hasAccount) await signIn('password', { email, password: form.get('password'), redirect: false });
    window.location.assign('/sign-in');
  };
  const { isBusy, refused, fault, submit } = useFormAction(accept, goOn);
  return (
    <form className="stack" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      <input type="hidden" name="token" value={token} />
      {!hasAccount && (
        <TextField
          label="Your name"
          name="name"
          defaultValue={name}
          autoComplete="name"
          maxLength={80}
          required
          error={fault('name')}
        />
      )}
      {needsBirthDate && (
        <TextField
          label="Birth date"
          name="birthDate"
          type="date"
          autoComplete="bday"
          required
          error={fault('birthDate')}
        />
      )}
      {!hasAccount && (
        <>
          <TextField label="E-mail" type="email" autoComplete="username" value={email} readOnly />
          <TextField
            label="Choose a password"
            hint="At least 10 characters. Three or four words in a row work well."
            name="password"
            type="password"
            autoComplete="new-password"
            required
            error={fault('password')}
          />
        </>
      )}
      {consentText && <Agree name="consent" words={consentText} label="I agree to this" />}
      <div className="acts">
        <button className="btn do big" disabled={isBusy}>
          {isBusy ? 'Joining' : 'Join'}
        </button>
      </div>
    </form>
  );
};

/** For a phone on which somebody else is signed in. */
export const SignOutFirst = ({ back }: { back: string }) => (
  <button type="button" className="btn do big" onClick={() => void signOut({ callbackUrl: back })}>
    Sign out, then open it again
  </button>
);
