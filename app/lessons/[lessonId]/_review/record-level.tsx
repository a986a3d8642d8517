import css from './record.module.css';

/** How loud the microphone is, in words: the bar beside it says the same. */
export const levelWords = (level: number, isHeard: boolean): string => {
  if (!isHeard) return 'Nothing is heard. Is the microphone switched off?';
  if (level > 0.95) return 'Too loud';
  if (level > 0.45) return 'Good';
  return level > 0.15 ? 'Quiet' : 'Silent';
};

/** A bar that follows the voice, with the same in words. */
export const LevelMeter = ({ level, isHeard }: { level: number; isHeard: boolean }) => (
  <div className={css.meter}>
    <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <rect className={css.trough} x="0" y="0" width="100" height="10" />
      <rect className={css.loud} x="0" y="1.5" width={Math.round(level * 100)} height="7" />
    </svg>
    <span className="small" aria-label="Loudness">
      {levelWords(level, isHeard)}
    </span>
  </div>
);
