'use client';

import { SelectField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { MAIL_CHOICE_WORD, MAIL_CHOICES, type MailChoice } from '@/lib/domain/notices/notice';
import { chooseMails } from '../actions';

type Props = { kinds: readonly { kind: string; title: string; mail: MailChoice }[] };

/** One choice for each kind, and one button that keeps them all. */
export const ChoicesForm = ({ kinds }: Props) => {
  const { isBusy, answer, refused, submit } = useFormAction(chooseMails);
  return (
    <form className="stack read" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {kinds.map(({ kind, title, mail }) => (
        <SelectField key={kind} label={title} name={kind} defaultValue={mail}>
          {MAIL_CHOICES.map((choice) => (
            <option key={choice} value={choice}>
              {MAIL_CHOICE_WORD[choice]}
            </option>
          ))}
        </SelectField>
      ))}
      <div className="acts">
        <button className="btn do" disabled={isBusy}>
          Keep these choices
        </button>
      </div>
      {answer?.ok && <Notice kind="done">Kept. It holds from the next notice on.</Notice>}
    </form>
  );
};
