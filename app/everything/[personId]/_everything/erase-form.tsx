'use client';

import { useRouter } from 'next/navigation';
import { Agree } from '@/app/_ui/agree';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { askErase } from '../actions';

type Props = { personId: string; freshId: string; words: string };

/** Asking that everything is erased, with the words of what that means. */
export const EraseForm = ({ personId, freshId, words }: Props) => {
  const router = useRouter();
  const { isBusy, refused, fault, submit } = useFormAction(askErase, () => router.refresh());
  return (
    <details>
      <summary>Erase everything</summary>
      <form className="stack read" onSubmit={submit}>
        <input type="hidden" name="id" value={freshId} />
        <input type="hidden" name="personId" value={personId} />
        <Agree name="isSure" words={words} label="I have read this, and want it so." />
        {(refused || fault('isSure')) && <Notice kind="refused">{fault('isSure') ?? refused}</Notice>}
        <div className="acts">
          <button className="btn" disabled={isBusy}>
            Erase everything in 30 days
          </button>
        </div>
      </form>
    </details>
  );
};
