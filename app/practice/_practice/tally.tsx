import css from './practice.module.css';

/** Days practised as strokes and days still asked for as dots, with the words beside them. */
export const Tally = ({ done, asked, words }: { done: number; asked: number; words?: string }) => {
  const left = Math.max(0, asked - done);
  const width = (done + left) * 9;
  return (
    <span className={css.tally}>
      <svg viewBox={`0 0 ${width} 18`} aria-hidden="true" focusable="false">
        {Array.from({ length: done }, (_, index) => (
          <path key={index} d={`M${4.5 + 9 * index} 2v14`} stroke="currentColor" strokeWidth="2.5" />
        ))}
        {Array.from({ length: left }, (_, index) => (
          <circle key={index} cx={4.5 + 9 * (done + index)} cy="9" r="2" fill="currentColor" />
        ))}
      </svg>
      <span className="num">
        {words ?? `${done} of ${asked} ${asked === 1 ? 'day' : 'days'} in the last seven`}
      </span>
    </span>
  );
};
