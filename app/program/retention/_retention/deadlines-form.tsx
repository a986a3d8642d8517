'use client';

import { useRouter } from 'next/navigation';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { daysInWords, RETENTION, RETENTION_CLASSES, type Deadlines } from '@/lib/domain/privacy/retention';
import { keepDeadlines } from '../actions';

/** The lead's deadlines, one field a class, each with its bounds and where its figure comes from. */
export const DeadlinesForm = ({ deadlines }: { deadlines: Deadlines }) => {
  const router = useRouter();
  const { isBusy, answer, refused, fault, submit } = useFormAction(keepDeadlines, () => router.refresh());
  return (
    <form className="stack" onSubmit={submit}>
      <ul className="ruled">
        {RETENTION_CLASSES.map((name) => {
          const { title, goes, from, days, min, max, why } = RETENTION[name];
          return (
            <li key={name} className="stack tight">
              <h3>{title}</h3>
              <p className="read">{goes}</p>
              <div className="read">
                <TextField
                  label={`Days ${from}`}
                  hint={`${min} to ${max} days. Without a choice: ${daysInWords(days)}.`}
                  name={name}
                  inputMode="numeric"
                  autoComplete="off"
                  defaultValue={deadlines[name]}
                  error={fault(name)}
                />
              </div>
              <p className="small soft read">{why}</p>
            </li>
          );
        })}
      </ul>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {answer?.ok && <Notice kind="done">Kept. It holds from the coming night on.</Notice>}
      <div className="acts">
        <button className="btn do" disabled={isBusy}>
          {isBusy ? 'Keeping it' : 'Keep the deadlines'}
        </button>
      </div>
    </form>
  );
};
