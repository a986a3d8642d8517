'use client';

import { useRouter } from 'next/navigation';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { CLEARANCE_WORD, type ClearanceKind } from '@/lib/domain/people/clearances';
import { addClearance } from '../actions';

type Props = { id: string; personId: string; name: string; kind: ClearanceKind; today: string };

/** A lead writes down a check or a training with its two days. */
export const ClearanceForm = ({ id, personId, name, kind, today }: Props) => {
  const router = useRouter();
  const { isBusy, refused, fault, submit } = useFormAction(addClearance, () => router.refresh());
  return (
    <form className="stack tight" onSubmit={submit} aria-label={`${CLEARANCE_WORD[kind]} of ${name}`}>
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="personId" value={personId} />
      <input type="hidden" name="kind" value={kind} />
      <h4>{CLEARANCE_WORD[kind]}</h4>
      {refused && <Notice kind="refused">{refused}</Notice>}
      <TextField
        label="Issued on"
        name="issuedOn"
        type="date"
        max={today}
        required
        error={fault('issuedOn')}
      />
      <TextField label="Holds until" name="expiresOn" type="date" required error={fault('expiresOn')} />
      <div className="acts">
        <button className="btn small" disabled={isBusy}>
          Record the {kind === 'background-check' ? 'check' : 'training'}
        </button>
      </div>
    </form>
  );
};
