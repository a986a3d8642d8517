import { useId } from 'react';
import css from './agree.module.css';

type Props = { name: string; words: string; label: string };

/** Words that somebody agrees to, whole and readable, with a box to tick under them. Never ticked beforehand. */
export const Agree = ({ name, words, label }: Props) => {
  const id = useId();
  return (
    <div className={css.agree}>
      <p className={css.words} id={id}>
        {words}
      </p>
      <label className={css.tick}>
        <input type="checkbox" name={name} value="yes" required aria-describedby={id} />
        <span>{label}</span>
      </label>
    </div>
  );
};
