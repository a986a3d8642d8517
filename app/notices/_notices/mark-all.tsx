'use client';

import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { markAllRead } from '../actions';

/** One button that marks everything as read. */
export const MarkAll = () => {
  const { isBusy, refused, submit } = useFormAction(markAllRead);
  return (
    <form onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      <button className="btn" disabled={isBusy}>
        Mark all as read
      </button>
    </form>
  );
};
