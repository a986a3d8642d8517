import { useId, type ComponentProps, type ReactNode } from 'react';
import { Icon } from './icon';

/** What is wrong with one field, tied to it by `id` through `aria-describedby`. Renders nothing without a message. */
export const FieldError = ({ id, children }: { id?: string; children?: ReactNode }) =>
  children ? (
    <p className="err" id={id}>
      <Icon name="care" />
      <span>{children}</span>
    </p>
  ) : null;

type Wiring = { id: string; 'aria-describedby': string | undefined; 'aria-invalid': true | undefined };

type FieldProps = {
  label: ReactNode;
  hint?: ReactNode;
  /** One sentence for people, or nothing. */
  error?: string | null;
  className?: string;
  /** Gives the control its id and aria attributes: `{(wiring) => <input {...wiring} />}`. */
  children: (wiring: Wiring) => ReactNode;
};

/** Label, hint, control and error of one field, tied together for those who hear it. */
export const Field = ({ label, hint, error, className, children }: FieldProps) => {
  const id = useId();
  const described = [hint ? `${id}-hint` : '', error ? `${id}-error` : ''].filter(Boolean).join(' ');
  return (
    <div className={className ? `fld ${className}` : 'fld'}>
      <label htmlFor={id}>{label}</label>
      {hint && (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {children({ id, 'aria-describedby': described || undefined, 'aria-invalid': error ? true : undefined })}
      <FieldError id={`${id}-error`}>{error}</FieldError>
    </div>
  );
};

type Wrapped = Pick<FieldProps, 'label' | 'hint' | 'error'>;

/** A one-line field. */
export const TextField = ({ label, hint, error, className, ...input }: Wrapped & ComponentProps<'input'>) => (
  <Field label={label} hint={hint} error={error}>
    {(wiring) => <input {...input} {...wiring} className={className ? `write ${className}` : 'write'} />}
  </Field>
);

/** A field of several lines; grows with its text where the browser can. */
export const TextArea = ({
  label,
  hint,
  error,
  className,
  ...area
}: Wrapped & ComponentProps<'textarea'>) => (
  <Field label={label} hint={hint} error={error}>
    {(wiring) => (
      <textarea rows={3} {...area} {...wiring} className={className ? `write ${className}` : 'write'} />
    )}
  </Field>
);

/** A choice from a list; `children` are its options. */
export const SelectField = ({
  label,
  hint,
  error,
  className,
  ...select
}: Wrapped & ComponentProps<'select'>) => (
  <Field label={label} hint={hint} error={error}>
    {(wiring) => <select {...select} {...wiring} className={className ? `write ${className}` : 'write'} />}
  </Field>
);
