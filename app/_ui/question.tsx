import { useId, type ReactNode } from 'react';
import { FieldError } from './field';

type Props = {
  legend: ReactNode;
  hint?: ReactNode;
  error?: string | null;
  id?: string;
  children: ReactNode;
};

/** One question with drawn or boxed answers: a fieldset that carries its hint and its error for those who hear it. */
export const Question = ({ legend, hint, error, id, children }: Props) => {
  const own = useId();
  const described = [hint ? `${own}-hint` : '', error ? `${own}-error` : ''].filter(Boolean).join(' ');
  return (
    <fieldset className="q" id={id} aria-describedby={described || undefined}>
      <legend>{legend}</legend>
      {hint && (
        <p className="hint small soft" id={`${own}-hint`}>
          {hint}
        </p>
      )}
      {children}
      <FieldError id={`${own}-error`}>{error}</FieldError>
    </fieldset>
  );
};
