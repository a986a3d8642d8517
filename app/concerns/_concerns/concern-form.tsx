'use client';

import { SelectField, TextArea } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { raise } from '../actions';

type Props = {
  id: string;
  staff: readonly { id: string; name: string }[];
  /** Whose lessons it is about, when it was opened from there. */
  player: { id: string; name: string } | null;
};

/** Says what happened, about whom, and with or without one's name. */
export const ConcernForm = ({ id, staff, player }: Props) => {
  const { isBusy, answer, refused, fault, submit } = useFormAction(raise);
  if (answer?.ok) {
    return answer.value.readers > 0 ? (
      <Notice kind="done" title="It is kept">
        <p>The leads of the program can read it now; the person you named cannot.</p>
      </Notice>
    ) : (
      <Notice kind="done" title="It is kept, but nobody here can read it yet">
        <p>
          The person you named is the only lead of the program, and does not see it. Please turn to the
          police, to child protection or to the program’s governing body.
        </p>
      </Notice>
    );
  }
  return (
    <form className="stack read" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      <input type="hidden" name="id" value={id} />
      {player && <input type="hidden" name="playerId" value={player.id} />}
      {player && <p>It is about the lessons of {player.name}.</p>}
      <SelectField
        label="Whom is it about?"
        hint="If it is a lead, that lead does not see it."
        name="aboutId"
        error={fault('aboutId')}
      >
        <option value="">Somebody else, or I am not sure</option>
        {staff.map((one) => (
          <option key={one.id} value={one.id}>
            {one.name}
          </option>
        ))}
      </SelectField>
      <TextArea
        label="What happened?"
        name="body"
        rows={8}
        maxLength={10_000}
        required
        error={fault('body')}
      />
      <label>
        <input type="checkbox" name="withoutName" value="yes" /> Leave my name out. Nobody can ask me back
        then.
      </label>
      <div className="acts">
        <button className="btn do" disabled={isBusy}>
          {isBusy ? 'Sending' : 'Raise the concern'}
        </button>
      </div>
    </form>
  );
};
