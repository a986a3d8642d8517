'use client';

import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { stopMails } from '../actions';

/** The one press that ends these mails. */
export const StopButton = ({ token }: { token: string }) => {
  const { isBusy, answer, refused, submit } = useFormAction(stopMails);
  if (answer?.ok) return <Notice kind="done">Done. These mails do not come any more.</Notice>;
  return (
    <form className="stack" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      <input type="hidden" name="token" value={token} />
      <div className="acts">
        <button className="btn do" disabled={isBusy}>
          Stop these mails
        </button>
      </div>
    </form>
  );
};
