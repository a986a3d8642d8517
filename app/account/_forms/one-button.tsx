'use client';

import { useRouter } from 'next/navigation';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import type { Answer } from '@/lib/domain/shared/result';

type Props = {
  action: (before: null, form: FormData) => Promise<Answer<unknown>>;
  /** What is sent with it. */
  fields?: Record<string, string>;
  label: string;
  /** For those who hear it, where the label alone does not say of whom. */
  spoken?: string;
  /** Said once it is done; without it the changed page says enough. */
  done?: string;
  isSmall?: boolean;
};

/** One button that changes one thing, and then shows the page anew. */
export const OneButton = ({ action, fields = {}, label, spoken, done, isSmall = false }: Props) => {
  const router = useRouter();
  const { isBusy, answer, refused, submit } = useFormAction(action, () => router.refresh());
  return (
    <form onSubmit={submit} className="stack tight">
      {Object.entries(fields).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <div className="acts">
        <button className={isSmall ? 'btn small' : 'btn'} disabled={isBusy} aria-label={spoken}>
          {label}
        </button>
      </div>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {answer?.ok && done && <Notice kind="done">{done}</Notice>}
    </form>
  );
};
