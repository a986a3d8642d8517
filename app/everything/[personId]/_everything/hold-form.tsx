'use client';

import { useRouter } from 'next/navigation';
import { TextArea } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { hold } from '../actions';

/** A lead says why nothing of a player may be deleted. */
export const HoldForm = ({ personId, freshId }: { personId: string; freshId: string }) => {
  const router = useRouter();
  const { isBusy, refused, fault, submit } = useFormAction(hold, () => router.refresh());
  return (
    <details>
      <summary>Place a legal hold</summary>
      <form className="stack read" onSubmit={submit}>
        {refused && <Notice kind="refused">{refused}</Notice>}
        <input type="hidden" name="id" value={freshId} />
        <input type="hidden" name="personId" value={personId} />
        <TextArea
          label="Why?"
          hint="Who asked for it, and when. Only leads read it."
          name="reason"
          maxLength={500}
          required
          error={fault('reason')}
        />
        <div className="acts">
          <button className="btn" disabled={isBusy}>
            Place the hold
          </button>
        </div>
      </form>
    </details>
  );
};
