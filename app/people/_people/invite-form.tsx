'use client';

import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { SelectField, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import type { Answer } from '@/lib/domain/shared/result';

type InvitedRole = 'player' | 'guardian' | 'coach';
type Props = {
  isLead: boolean;
  minors: { personId: string; name: string }[];
  /** The player whom a guardian is invited for, when the page was opened for that. */
  forPlayer: string | null;
  invite: (before: null, form: FormData) => Promise<Answer<{ isSent: boolean }>>;
};

/** Inviting somebody by mail. */
export const InviteForm = ({ isLead, minors, forPlayer, invite }: Props) => {
  const router = useRouter();
  const [role, setRole] = useState<InvitedRole>(forPlayer ? 'guardian' : 'player');
  const [sentTo, setSentTo] = useState<string | null>(null);
  const { isBusy, refused, fault, submit } = useFormAction(invite, (_value, form) => {
    setSentTo(String(form.get('email')));
    router.refresh();
  });
  const roles: { value: InvitedRole; label: string }[] = [
    { value: 'player', label: 'Player' },
    { value: 'guardian', label: 'Guardian' },
    ...(isLead ? [{ value: 'coach' as const, label: 'Coach' }] : []),
  ];
  return (
    <form className="stack" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {sentTo && !refused && (
        <Notice kind="done">
          An invitation is on its way to {sentTo}. The link works once, for two weeks.
        </Notice>
      )}
      <ChoiceGroup
        legend="Invite as"
        name="role"
        value={role}
        onChange={setRole}
        columns={roles.length === 3 ? 'three' : 'two'}
        choices={roles}
      />
      {role === 'player' && (
        <p className="small soft">
          From 13 on. For a younger player invite the parent or guardian; they hold the profile.
        </p>
      )}
      {role === 'guardian' && (
        <SelectField
          label="Of which player"
          hint="Leave it open for somebody who will add their child themselves. The players that this page shows stand here: find another one by name above."
          name="playerId"
          defaultValue={forPlayer ?? ''}
          error={fault('playerId')}
        >
          <option value="">They add their child</option>
          {minors.map(({ personId, name }) => (
            <option key={personId} value={personId}>
              {name}
            </option>
          ))}
        </SelectField>
      )}
      <TextField label="Name" name="name" autoComplete="off" maxLength={80} required error={fault('name')} />
      <TextField
        label="E-mail"
        name="email"
        type="email"
        autoComplete="off"
        required
        error={fault('email')}
      />
      <div className="acts">
        <button className="btn do" disabled={isBusy}>
          {isBusy ? 'Sending' : 'Send the invitation'}
        </button>
      </div>
    </form>
  );
};
