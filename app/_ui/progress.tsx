type Props = {
  /** What is progressing, for those who hear it: "Clip sent". */
  label: string;
  /** 0 to 1. */
  done: number;
  /** What is done and what is left, in words: "11 of 18 MB, about 40 s left". */
  words?: string;
  isPaused?: boolean;
};

/** Real progress, drawn as SVG attributes (a strict style policy forbids style attributes), with what is left in words. */
export const Progress = ({ label, done, words, isPaused = false }: Props) => {
  const share = Math.min(1, Math.max(0, done));
  return (
    <div className={isPaused ? 'progress paused' : 'progress'}>
      <div
        role="progressbar"
        aria-label={label}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={Math.floor(share * 100)}
        aria-valuetext={words}
      >
        <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" focusable="false">
          <rect className="trough" x="0" y="0" width="100" height="10" />
          <rect className="fill" x="0" y="1.4" width={share * 100} height="7.2" />
        </svg>
      </div>
      {words && <span className="small soft num">{words}</span>}
    </div>
  );
};
