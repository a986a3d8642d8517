'use client';

import { useRouter } from 'next/navigation';
import { TextArea } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { close } from '../actions';

/** A lead writes what came of a concern and closes it. */
export const CloseForm = ({ id }: { id: string }) => {
  const router = useRouter();
  const { isBusy, refused, fault, submit } = useFormAction(close, () => router.refresh());
  return (
    <details>
      <summary>Close it</summary>
      <form className="stack read" onSubmit={submit}>
        {refused && <Notice kind="refused">{refused}</Notice>}
        <input type="hidden" name="id" value={id} />
        <TextArea
          label="What was done?"
          hint="Whom you told and when. It cannot be changed afterwards."
          name="outcome"
          maxLength={10_000}
          required
          error={fault('outcome')}
        />
        <div className="acts">
          <button className="btn" disabled={isBusy}>
            Close the concern
          </button>
        </div>
      </form>
    </details>
  );
};
