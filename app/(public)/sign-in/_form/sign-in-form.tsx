'use client';

import { signIn } from 'next-auth/react';
import { useState, type FormEvent } from 'react';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import type { Answer } from '@/lib/domain/shared/result';
import { refusalWords } from './refusal-words';

type Props = {
  /** Where to go on to: a checked path of this site. */
  next: string;
  askForLink: (before: null, form: FormData) => Promise<Answer<{ isAsked: boolean }>>;
};

type State = { busy: 'password' | 'link' | null; refused: string | null; sentTo: string | null };

/** Signing in with a password, or asking for a link by mail; one address for both. */
export const SignInForm = ({ next, askForLink }: Props) => {
  const [{ busy, refused, sentTo }, setState] = useState<State>({ busy: null, refused: null, sentTo: null });
  const refuse = (words: string) => setState({ busy: null, refused: words, sentTo: null });

  const byPassword = async (form: FormData) => {
    setState({ busy: 'password', refused: null, sentTo: null });
    const answer = await signIn('password', {
      email: form.get('email'),
      password: form.get('password'),
      redirect: false,
    });
    if (answer?.ok) return window.location.assign(next);
    refuse(refusalWords(answer?.error));
  };

  const byLink = async (form: FormData) => {
    setState({ busy: 'link', refused: null, sentTo: null });
    const answer = await askForLink(null, form);
    if (!answer.ok) return refuse(answer.fields?.email?.[0] ?? answer.message);
    setState({ busy: null, refused: null, sentTo: String(form.get('email')).trim() });
  };

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const isLink = (event.nativeEvent as SubmitEvent).submitter?.dataset.way === 'link';
    void (isLink ? byLink(form) : byPassword(form)).catch(() => refuse(refusalWords('unavailable')));
  };

  return (
    <form className="stack" onSubmit={submit} noValidate>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {sentTo && (
        <Notice kind="done" title="Look into your mail">
          <p>
            If {sentTo} belongs to somebody here, a link is on its way to it. It works once, for 15 minutes.
            You can close this page.
          </p>
        </Notice>
      )}
      <TextField
        label="E-mail"
        name="email"
        type="email"
        autoComplete="username"
        inputMode="email"
        required
      />
      <TextField label="Password" name="password" type="password" autoComplete="current-password" />
      <div className="acts">
        <button className="btn do big" disabled={busy !== null}>
          {busy === 'password' ? 'Signing in' : 'Sign in'}
        </button>
        <button className="btn big" data-way="link" disabled={busy !== null}>
          {busy === 'link' ? 'Asking for it' : 'Mail me a link instead'}
        </button>
      </div>
      <p className="small soft">
        No password yet, or forgotten it? The link lets you in, and you can set a new password on your account
        page.
      </p>
    </form>
  );
};
