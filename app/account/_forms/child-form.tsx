'use client';

import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Agree } from '@/app/_ui/agree';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import type { Answer } from '@/lib/domain/shared/result';

type Props = {
  /** The id the child will have; a new one once it is added, so that sending twice adds one child. */
  freshId: string;
  consentText: string;
  /** The child whom the program named when it invited this guardian. */
  expected?: { invitationId: string; name: string; birthDate: string | null };
  add: (before: null, form: FormData) => Promise<Answer<{ playerId: string }>>;
};

/** A guardian adds a child whose profile they hold. */
export const ChildForm = ({ freshId, consentText, expected, add }: Props) => {
  const router = useRouter();
  const [isOpen, setOpen] = useState(false);
  const { isBusy, refused, fault, submit } = useFormAction(add, () => {
    setOpen(false);
    router.refresh();
  });
  if (!isOpen) {
    return (
      <div className="acts">
        <button type="button" className="btn" onClick={() => setOpen(true)}>
          {expected ? `Add ${expected.name}` : 'Add a child'}
        </button>
      </div>
    );
  }
  return (
    <form className="stack" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      <input type="hidden" name="id" value={freshId} />
      {expected ? <input type="hidden" name="invitationId" value={expected.invitationId} /> : null}
      <TextField
        label="Child’s name"
        name="name"
        autoComplete="off"
        defaultValue={expected?.name}
        maxLength={80}
        required
        error={fault('name')}
      />
      <TextField
        label="Birth date"
        name="birthDate"
        type="date"
        defaultValue={expected?.birthDate ?? undefined}
        required
        error={fault('birthDate')}
      />
      <ChoiceGroup
        legend="Bats"
        name="bats"
        value={null}
        choices={[
          { value: 'right', label: 'Right' },
          { value: 'left', label: 'Left' },
        ]}
      />
      <Agree name="consent" words={consentText} label="I agree to this" />
      <div className="acts">
        <button className="btn do" disabled={isBusy}>
          {isBusy ? 'Adding' : 'Add this child'}
        </button>
        <button type="button" className="btn" onClick={() => setOpen(false)}>
          Not now
        </button>
      </div>
    </form>
  );
};
